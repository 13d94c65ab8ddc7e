#include "netlists/phrases/load_sides.hpp"

#include <algorithm>
#include <deque>
#include <vector>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// More contacts than any way has.
constexpr int no_way = 1000;

/// How many contacts that move (of switches and relays) the easiest way to each end of the battery goes through.
struct DrawnEnds {
    int plus{no_way};
    int minus{no_way};
};

class DrawnWalk {
public:
    explicit DrawnWalk(const Circuit& circuit) : circuit_(circuit) {
        plus_ = {circuit.bus_30, circuit.bus_15};
        minus_ = {circuit.reference, circuit.metal};
        for (const Part& part : circuit.parts) {
            if (!has_duty(part, Duty::battery)) continue;
            for (const auto& [terminal, joint] : part.pins) (terminal == "+" ? plus_ : minus_).push_back(joint);
            for (const auto& [terminal, joint] : part.harness) (terminal == "+" ? plus_ : minus_).push_back(joint);
        }
    }

    DrawnEnds from(JointId start) const {
        DrawnEnds ends;
        std::vector<int> least(circuit_.joints.size(), no_way);
        std::deque<JointId> open{start};
        least[start.index] = 0;
        while (!open.empty()) {
            const JointId joint = open.front();
            open.pop_front();
            const int here = least[joint.index];
            const bool plus = is_among(plus_, joint);
            const bool minus = is_among(minus_, joint);
            if (plus) ends.plus = std::min(ends.plus, here);
            if (minus) ends.minus = std::min(ends.minus, here);
            if (plus || minus) continue;
            for (const Branch& branch : circuit_.branches) {
                if ((branch.a != joint && branch.b != joint) || !walks(branch)) continue;
                const JointId far = branch.a == joint ? branch.b : branch.a;
                const int there = here + (moves(branch) ? 1 : 0);
                if (!far.valid() || least[far.index] <= there) continue;
                least[far.index] = there;
                open.push_back(far);
            }
        }
        return ends;
    }

private:
    static bool is_among(const std::vector<JointId>& joints, JointId joint) {
        return std::find(joints.begin(), joints.end(), joint) != joints.end();
    }

    bool is(BranchId id, const Branch& branch) const { return id.valid() && &circuit_.branch(id) == &branch; }

    bool moves(const Branch& branch) const {
        if (!branch.part.valid()) return false;
        const Part& part = circuit_.part(branch.part);
        if (part.relay && (is(part.relay->normally_open, branch) || is(part.relay->normally_closed, branch)))
            return true;
        return std::any_of(part.contacts.begin(), part.contacts.end(),
                           [&](const auto& contact) { return is(contact.second, branch); });
    }

    /// Not through what works by the current itself: loads, coils, and what is laid across them. A resistor may be a
    /// ballast.
    bool walks(const Branch& branch) const {
        if (branch.sort == BranchSort::suppression || branch.sort == BranchSort::signal) return false;
        if (!branch.part.valid()) return true;
        const Part& part = circuit_.part(branch.part);
        const bool works = is(part.load_branch, branch) && load_kind_of(part) != LoadKind::heater;
        return !works && !(part.relay && is(part.relay->coil, branch)) && !std::holds_alternative<Diode>(branch.law);
    }

    const Circuit& circuit_;
    std::vector<JointId> plus_;
    std::vector<JointId> minus_;
};

}  // namespace

std::optional<LoadSides> sides_of_load(const Circuit& circuit, PartId load) {
    const Part& part = circuit.part(load);
    if (!part.load_branch.valid() || part.harness.size() != 2) return std::nullopt;
    const auto& [one, joint_of_one] = *part.harness.begin();
    const auto& [other, joint_of_other] = *part.harness.rbegin();
    const DrawnWalk walk(circuit);
    const DrawnEnds of_one = walk.from(joint_of_one);
    const DrawnEnds of_other = walk.from(joint_of_other);
    const auto to_plus = [](const DrawnEnds& ends) { return ends.plus < ends.minus; };
    const auto to_minus = [](const DrawnEnds& ends) { return ends.minus < ends.plus; };
    if (to_plus(of_one) && to_minus(of_other)) return LoadSides{one, other};
    if (to_plus(of_other) && to_minus(of_one)) return LoadSides{other, one};
    return std::nullopt;
}

WireId only_wire_at(const Circuit& circuit, PartId part, const std::string& terminal) {
    WireId only;
    const auto ends_there = [&](const WireEnd& end) { return end.part == part && same_word(end.terminal, terminal); };
    for (std::uint32_t i = 0; i < circuit.wires.size(); ++i) {
        const Wire& wire = circuit.wires[i];
        if (!ends_there(wire.from) && !ends_there(wire.to)) continue;
        if (only.valid()) return {};
        only = {i};
    }
    return only;
}

}  // namespace voltfall
