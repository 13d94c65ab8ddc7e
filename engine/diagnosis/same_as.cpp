#include "engine/diagnosis/same_as.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/displays.hpp"
#include "engine/readings/in_hand.hpp"
#include "engine/readings/probes.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"

namespace voltfall {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
/// Steps of the search for the other fault's size; a step of 0.6 an interval leaves 1 % of a decade's factor.
constexpr int size_steps = 9;
/// A fit to the readings that is this far off elsewhere is not mended by another size.
constexpr double hopeless = 8;

/// The one branch that a mode gives ohms or opens, if that is all it does.
struct OneBranch {
    BranchId branch;
    bool opens{false};
};
std::optional<OneBranch> one_branch(const FaultMode& mode) {
    const std::vector<Change> changes = mode.changes(mode.size ? mode.size->usual : 1, 0.5);
    if (changes.size() != 1) return std::nullopt;
    if (const auto* add = std::get_if<AddOhms>(&changes[0])) return OneBranch{add->branch, false};
    if (const auto* open = std::get_if<OpenBranch>(&changes[0])) return OneBranch{open->branch, true};
    return std::nullopt;
}

/// Connectors and named plugs that may be taken apart.
std::vector<std::string> permitted_plugs(const Circuit& circuit) {
    std::vector<std::string> plugs;
    for (const Part& part : circuit.parts) {
        const std::string& plug = joins(part, Joining::cavities) ? part.name : part.plug;
        if (!plug.empty() && !is_closed(circuit, plug)) plugs.push_back(plug);
    }
    return plugs;
}

/// Does an ohmmeter tell an open inside a part from one beside it?
bool told_in_hand(const Circuit& circuit, const FaultMode& a, const FaultMode& b) {
    const auto one = one_branch(a);
    const auto two = one_branch(b);
    return one && two && one->opens && two->opens &&
           part_in_hand(circuit, one->branch) != part_in_hand(circuit, two->branch);
}

/// A gauge tells a system's pressure from anything in the circuit.
bool tells_otherwise(const FaultMode& a, const FaultMode& b) {
    return a.is(ModeFact::outside_circuit) != b.is(ModeFact::outside_circuit);
}

}  // namespace

Lookalikes::Lookalikes(Simulator& simulator, const Circuit& circuit)
    : simulator_(simulator), circuit_(circuit), states_(default_states(circuit)), joints_(permitted_joints(circuit)) {
    for (const std::string& plug : permitted_plugs(circuit)) {
        for (State state : states_) {
            state.unplugged.push_back(plug);
            unplugged_.push_back(std::move(state));
        }
    }
    run_of_branch_.assign(circuit.branches.size(), -1);
    int run = 0;
    for (const std::vector<BranchId>& branches : series_runs(Network(circuit))) {
        for (const BranchId id : branches) run_of_branch_[id.index] = run;
        ++run;
    }
}

bool Lookalikes::by_graph(const FaultMode& a, const FaultMode& b) const {
    const auto one = one_branch(a);
    const auto two = one_branch(b);
    if (!one || !two || one->opens != two->opens) return false;
    if (a.is(ModeFact::only_sometimes) != b.is(ModeFact::only_sometimes)) return false;
    if (tells_otherwise(a, b)) return false;
    // A fuse that has blown looks blown; the wire beside it does not.
    if (a.fault_class == FaultClass::fuse_itself || b.fault_class == FaultClass::fuse_itself) return false;
    const int run = run_of_branch_[one->branch.index];
    return one->branch == two->branch || (run >= 0 && run == run_of_branch_[two->branch.index]);
}

Lookalikes::Look Lookalikes::look(const FaultMode* mode, double size, double where, const std::vector<State>& states) {
    Look result;
    std::vector<Fault> faults;
    if (mode) {
        const auto shared = std::find_if(circuit_.modes.begin(), circuit_.modes.end(),
                                         [&](const ModePtr& m) { return m.get() == mode; });
        faults.push_back({*shared, size, where, {}, {}});
    }
    const Accuracy meter = accuracy_of(Instrument::meter, {});
    const Accuracy clamp = accuracy_of(Instrument::clamp, {});
    for (const State& state : states) {
        const CourseResult course = run_course(simulator_, circuit_, state, faults);
        if (!course) return result;
        const Settled& end = course->end();
        for (const JointId joint : joints_) {
            const double volts = end.floats(joint) ? 0.0 : end.point.volts[joint.index];
            result.values.push_back(volts);
            result.resolution.push_back(meter.limit(volts, meter_digit));
        }
        for (const Wire& wire : circuit_.wires) {
            const double amps = end.point.amps[wire.first_half.index];
            result.values.push_back(std::isfinite(amps) ? amps : 0.0);
            result.resolution.push_back(clamp.limit(result.values.back(), clamp_digit));
        }
        for (const bool pulled : end.relay_pulled) result.marks.push_back(pulled);
        // Whether a clutch pulls in is seen, whatever its volts.
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            if (load_kind_of(circuit_.parts[i]) == LoadKind::clutch)
                result.marks.push_back(static_cast<double>(load_state(end, {i}, nullptr).seen));
        }
        for (const PartId part : course->opened) result.marks.push_back(100 + part.index);
    }
    result.ok = true;
    return result;
}

double Lookalikes::distance(const Look& a, const Look& b) {
    if (!a.ok || !b.ok || a.marks != b.marks) return infinite;
    double greatest = 0;
    for (std::size_t i = 0; i < a.values.size(); ++i) {
        greatest = std::max(greatest, std::abs(a.values[i] - b.values[i]) / std::max(a.resolution[i], b.resolution[i]));
    }
    return greatest;
}

bool Lookalikes::by_numbers(const FaultMode& fault, double size, double where, const FaultMode* other,
                            double start_size) {
    // What a person would see at the two places is a difference too.
    if (other && (fault.fault_class == FaultClass::fuse_itself) != (other->fault_class == FaultClass::fuse_itself))
        return false;
    if (other && fault.is(ModeFact::only_sometimes) != other->is(ModeFact::only_sometimes)) return false;
    if (other && told_in_hand(circuit_, fault, *other)) return false;
    if (other && tells_otherwise(fault, *other)) return false;
    if (wanted_.mode != &fault || wanted_.size != size || wanted_.where != where)
        wanted_ = {&fault, size, where, look(&fault, size, where)};
    const Look& wanted = wanted_.look;
    if (!wanted.ok) return false;
    if (!other || !other->size)
        return distance(wanted, look(other, 0, 0.5)) < 1 && alike_unplugged(fault, size, where, other, 0);
    const SizeRange& range = *other->size;
    const auto at = [&](double scale) { return distance(wanted, look(other, size_of(range, scale), 0.5)); };
    // A local search around the size that fits the readings; the distance has one dip there.
    double centre = scale_of(range, std::clamp(start_size, range.low, range.high));
    double step = (scale_of(range, range.high) - scale_of(range, range.low)) / 12;
    double best = at(centre);
    for (int i = 0; i < size_steps && best >= 1 && best < hopeless; ++i) {
        bool moved = false;
        for (const double next : {centre - step, centre + step}) {
            if (next < scale_of(range, range.low) || next > scale_of(range, range.high)) continue;
            const double d = at(next);
            if (d >= best) continue;
            best = d;
            centre = next;
            moved = true;
            break;
        }
        if (!moved) step *= 0.4;
    }
    return best < 1 && alike_unplugged(fault, size, where, other, size_of(range, centre));
}

bool Lookalikes::alike_unplugged(const FaultMode& fault, double size, double where, const FaultMode* other,
                                 double other_size) {
    return distance(look(&fault, size, where, unplugged_), look(other, other_size, 0.5, unplugged_)) < 1;
}

}  // namespace voltfall
