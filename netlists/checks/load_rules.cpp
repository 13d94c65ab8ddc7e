// Loads and relays: can current reach them and leave them?
#include <algorithm>

#include "netlists/checks/rules.hpp"
#include "netlists/graph/poles.hpp"
#include "netlists/graph/wired_with.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// Loads that are looked at for a way through other loads: a drawing with more open loads has one reason for all.
constexpr std::size_t most_series_looks = 50;

bool may_stand_in_series(const Part& part) {
    return part.kind->load == LoadKind::heater;
}

/// The terminal of the part where this joint is, as typed; empty for a joint inside.
std::string terminal_at(const Part& part, JointId joint) {
    for (const auto& [terminal, pin] : part.pins) {
        if (pin == joint) return terminal_name(part, terminal);
    }
    return {};
}

/// The end of the load that never sees the wanted side, as a terminal name, or both.
std::string bare_end(const Circuit& circuit, const Part& part, bool first_has_other) {
    const Branch& branch = circuit.branch(part.load_branch);
    const std::string name = terminal_at(part, first_has_other ? branch.b : branch.a);
    return name.empty() ? part.name : name;
}

/// True when a wire or feed ends at the terminal of that name.
bool is_wired(const WiredTerminals& ends, PartId id, const std::string& name) {
    const std::string_view terminal = read_place(name).cavity;
    return terminal.empty() || ends.wired(id, terminal);
}

/// Supply words for the side that is missing.
struct Missing {
    ProblemCode code;
    std::string_view what;  ///< "no way back to ground"
    std::string_view cure;
};
constexpr Missing no_ground{ProblemCode::no_ground, "no way back to ground",
                            "to a ground or battery minus, or through a switch that leads there"};
constexpr Missing no_feed{ProblemCode::no_feed, "no way to the supply",
                          "to a fuse or battery plus, or through a switch that leads there"};

void report_side(const Circuit& circuit, const WiredTerminals& ends, PartId id, bool other_at_first,
                 const Missing& missing, Problems& problems) {
    const Part& part = circuit.part(id);
    const std::string end = bare_end(circuit, part, other_at_first);
    if (!is_wired(ends, id, end)) {
        problems.error(ProblemCode::no_wire, part.source,
                       end + " has no wire, so " + part.name + " has " + std::string(missing.what),
                       "add a wire from " + end + " " + std::string(missing.cure));
        return;
    }
    problems.error(
        missing.code, part.source,
        part.name + " has " + std::string(missing.what) + " in any position: what is tied to " + end + " ends nowhere",
        "follow the wire at " + end + " in the diagram and wire its far end " + std::string(missing.cure));
}

void report_load(const Circuit& circuit, const WiredTerminals& ends, PartId id, const EndsSeen& seen,
                 Problems& problems) {
    const Part& part = circuit.part(id);
    const bool first = seen.first_plus || seen.first_minus;
    const bool second = seen.second_plus || seen.second_minus;
    if (!first && !second) {
        problems.error(ProblemCode::never_live, part.source,
                       part.name + " has no way to the supply and no way back to ground in any position",
                       "wire one side to a fuse, the other to a ground");
    } else if (first != second) {
        // The end that nothing reaches lacks its wire, whatever a switch ties the other one to.
        report_side(circuit, ends, id, first, seen.plus() ? no_ground : no_feed, problems);
    } else if (!seen.minus()) {
        problems.error(ProblemCode::no_ground, part.source,
                       "both sides of " + part.name + " lead to the supply and neither to ground",
                       "wire one side of " + part.name + " " + std::string(no_ground.cure));
    } else if (!seen.plus()) {
        problems.error(ProblemCode::no_feed, part.source,
                       "both sides of " + part.name + " lead to ground and neither to the supply",
                       "wire one side of " + part.name + " " + std::string(no_feed.cure));
    } else {
        problems.error(
            ProblemCode::never_live, part.source,
            part.name + " is never fed and grounded in the same position: each side is reached, but not together",
            "check which contacts the positions of its switches close");
    }
}

/// A resistor at the output of electronics, such as a panel's own in front of a sensor, has its volts from there and
/// not from the supply.
bool hangs_on_electronics(const Circuit& circuit, const Part& part) {
    if (!may_stand_in_series(part)) return false;
    for (const auto& [terminal, own] : part.harness) {
        const std::vector<JointId> joints = wired_with(circuit, own);
        const auto there = [&](JointId joint) {
            return std::find(joints.begin(), joints.end(), joint) != joints.end();
        };
        for (const Part& other : circuit.parts) {
            if (!other.electronics) continue;
            for (const auto& [name, joint] : other.harness) {
                if (name != "+" && name != "-" && there(joint)) return true;
            }
        }
    }
    return false;
}

void check_in_series(const Circuit& circuit, const std::vector<PartId>& open_loads, const WiredTerminals& ends,
                     const Survey& survey, Problems& problems) {
    std::vector<PartId> looked_at = open_loads;
    if (looked_at.size() > most_series_looks) looked_at.resize(most_series_looks);
    const std::vector<EndsSeen> far = ends_through_loads(circuit, looked_at);
    for (const PartId id : open_loads) {
        const Part& part = circuit.part(id);
        if (hangs_on_electronics(circuit, part)) continue;
        if (!far[id.index].across) {
            report_load(circuit, ends, id, survey.loads[id.index], problems);
        } else if (!may_stand_in_series(part)) {
            problems.warning(ProblemCode::loads_in_series, part.source,
                             "current reaches " + part.name + " only through another load, so both run weak",
                             "if the diagram shows them side by side, one of them lacks a wire");
        }
    }
}

bool contacts_wired(const WiredTerminals& ends, PartId id) {
    return ends.wired(id, "30") || ends.wired(id, "87") || ends.wired(id, "87a");
}

/// Nothing to say about the coil when false.
void check_coil(const Circuit& circuit, const WiredTerminals& ends, const Survey& survey, PartId id,
                Problems& problems) {
    const Part& part = circuit.part(id);
    const bool has_85 = ends.wired(id, "85");
    const bool has_86 = ends.wired(id, "86");
    if (!has_85 && !has_86) {
        problems.error(ProblemCode::coil_unwired, part.source,
                       "the contacts of relay " + part.name + " are wired but its coil is not, so it never moves",
                       "wire " + part.name + ".86 to a feed and " + part.name + ".85 to a ground or switch");
        return;
    }
    if (!has_85 || !has_86) {
        const std::string bare = part.name + (has_85 ? ".86" : ".85");
        problems.error(ProblemCode::coil_unwired, part.source,
                       "only one side of the coil of relay " + part.name + " is wired: " + bare + " has no wire",
                       "add a wire to " + bare);
        return;
    }
    // A charging system is regulated to about 1.2 times the nominal volts (common practice).
    const double most_volts = std::max(circuit.supply * 1.2, circuit.part(circuit.battery).value("charging volts"));
    const Parameter* pulls = part.parameter("pull volts");
    if (const double pull = pulls ? pulls->value : 0; pull > most_volts) {
        problems.error(ProblemCode::relay_never_pulls, part.source,
                       "relay " + part.name + " can never pull: it wants " + write_measure(pull, Unit::volt) +
                           ", and the supply gives " + write_measure(most_volts, Unit::volt) + " at most",
                       "check 'pulls' of " + part.name + ", or the supply of the file");
        return;
    }
    const EndsSeen& seen = survey.coils[id.index];
    const Branch& coil = circuit.branch(part.relay->coil);
    if (seen.across || survey.could_flow(coil.a, coil.b)) return;
    std::string why = "its sides are never fed and grounded together";
    if (!seen.plus()) why = "neither side has a way to the supply";
    if (!seen.minus()) why = "neither side has a way to ground";
    problems.error(ProblemCode::relay_never_pulls, part.source,
                   "relay " + part.name + " can never pull: " + why + " in any position",
                   "check the wires at " + part.name + ".85 and " + part.name + ".86");
}

void check_contacts(const WiredTerminals& ends, PartId id, const Part& part, Problems& problems) {
    const bool common = ends.wired(id, "30");
    const bool thrown = ends.wired(id, "87") || ends.wired(id, "87a");
    if (common && thrown) return;
    std::string message = "no contact of relay " + part.name + " is wired: it switches nothing";
    std::string bare = part.name + ".30 and " + part.name + ".87";
    if (common || thrown) {
        bare = part.name + (common ? ".87" : ".30");
        message = bare + " has no wire: relay " + part.name + " switches nothing";
    }
    problems.warning(ProblemCode::no_wire, part.source, message, "add a wire to " + bare);
}

}  // namespace

void check_loads(const Circuit& circuit, const WiredTerminals& ends, const Survey& survey, Problems& problems) {
    std::vector<PartId> open_loads;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const BranchId load = circuit.parts[i].load_branch;
        if (!load.valid() || survey.loads[i].across || stands_alone(circuit, ends, {i})) continue;
        if (!survey.could_flow(circuit.branch(load).a, circuit.branch(load).b)) open_loads.push_back({i});
    }
    if (!open_loads.empty()) check_in_series(circuit, open_loads, ends, survey, problems);
}

void check_relays(const Circuit& circuit, const WiredTerminals& ends, const Survey& survey, Problems& problems) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!part.relay || ends.untouched({i})) continue;
        if (ends.wired({i}, "85") || ends.wired({i}, "86") || contacts_wired(ends, {i})) {
            check_coil(circuit, ends, survey, {i}, problems);
        }
        check_contacts(ends, {i}, part, problems);
    }
}

}  // namespace voltfall
