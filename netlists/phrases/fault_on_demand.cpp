#include "netlists/phrases/fault_on_demand.hpp"

#include <optional>
#include <utility>

#include "netlists/parts/layout.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/natural_order.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::shared_ptr<FaultMode> row(const Circuit& circuit, std::string place, ModeWords words, FaultClass fault_class,
                               ModeFacts facts) {
    auto mode = std::make_shared<FaultMode>();
    mode->part = circuit.part_at(place);
    mode->repair = place;
    mode->place = std::move(place);
    mode->mode = std::move(words.words);
    mode->plain = std::move(words.plain);
    mode->facts = facts;
    mode->fault_class = fault_class;
    mode->catalogued = false;
    return mode;
}

std::vector<std::string> wire_names(const Circuit& circuit) {
    std::vector<std::string> names;
    for (const Wire& wire : circuit.wires) names.push_back(wire.name);
    return names;
}

tl::unexpected<CannotBuild> cannot(ProblemCode code, std::string message, std::string suggestion) {
    return tl::unexpected(CannotBuild{code, std::move(message), std::move(suggestion)});
}

tl::unexpected<CannotBuild> no_such_wire(const Circuit& circuit, std::string_view typed) {
    const auto pieces = pieces_of_chain(circuit, typed);
    if (!pieces.empty()) {
        return cannot(ProblemCode::two_meanings, "'" + std::string(typed) + "' runs in several pieces",
                      "write " + list_words(pieces));
    }
    return cannot(ProblemCode::unknown_wire, "no wire is called '" + std::string(typed) + "'",
                  did_you_mean(typed, wire_names(circuit)));
}

/// The joint of a cavity on its first-written side, or invalid.
JointId cavity_joint(const Circuit& circuit, const std::string& cavity) {
    for (const Branch& branch : circuit.branches) {
        if (same_word(branch.place, cavity)) return branch.a;
    }
    const auto joints = joints_named(circuit, cavity);
    return joints.empty() ? JointId{} : joints.front();
}

/// Which ends of two wires have changed places; true stands for the first-written end.
struct Ends {
    bool first_wire_from{false};
    bool second_wire_from{false};
};

const WireEnd& end_of(const Wire& wire, bool from) {
    return from ? wire.from : wire.to;
}

Ends ends_to_swap(const Wire& first, const Wire& second) {
    std::optional<Ends> shared;
    int count = 0;
    for (const bool a : {true, false}) {
        for (const bool b : {true, false}) {
            const WireEnd& x = end_of(first, a);
            const WireEnd& y = end_of(second, b);
            // Two wires in the same cavity or on the same splice would change nothing.
            if (x.part != y.part || !x.part.valid() || x.joint == y.joint || same_word(x.terminal, y.terminal))
                continue;
            shared = Ends{a, b};
            ++count;
        }
    }
    if (count == 1) return *shared;
    const bool same_last = first.to.joint == second.to.joint;
    return {same_last, same_last};
}

}  // namespace

BuiltMode build_wire_bridge(const Circuit& circuit, WireId wire, std::string_view other) {
    const WireId touched = circuit.find_wire(other);
    if (!touched.valid()) return no_such_wire(circuit, other);
    const Wire& a = circuit.wire(wire);
    const Wire& b = circuit.wire(touched);
    if (wire == touched)
        return cannot(ProblemCode::contradiction, "'" + a.name + "' cannot touch itself", "name another wire");
    auto mode = row(circuit, a.name, wire_bridge_words(a.name, b.name), FaultClass::wire, {ModeFact::may_touch});
    mode->size = contact_to_metal_range(default_value("bridge_ohm"));
    mode->along_wire = true;
    mode->looks = "rubbed melted";
    mode->changes = [wire, touched, from = a.middle, to = b.middle](double ohms, double where) {
        return std::vector<Change>{PlaceMiddle{wire, where}, PlaceMiddle{touched, where}, Connect{from, to, ohms}};
    };
    return ModePtr(std::move(mode));
}

BuiltMode build_cavity_bridge(const Circuit& circuit, std::string_view connector, std::string_view pair) {
    const auto dash = pair.find('-');
    const std::string example = "for example " + std::string(connector) + " bridge 1-2";
    if (dash == std::string_view::npos || dash == 0 || dash + 1 == pair.size()) {
        return cannot(ProblemCode::unknown_terminal, "'" + std::string(pair) + "' is not a pair of cavities", example);
    }
    const std::string cavities[] = {std::string(pair.substr(0, dash)), std::string(pair.substr(dash + 1))};
    const std::string names[] = {write_place({connector, cavities[0]}), write_place({connector, cavities[1]})};
    JointId joints[2];
    for (int i = 0; i < 2; ++i) {
        joints[i] = cavity_joint(circuit, names[i]);
        if (joints[i].valid()) continue;
        const auto used = cavities_of(circuit, connector);
        return cannot(ProblemCode::unknown_terminal, "'" + names[i] + "' is not used here",
                      used.empty() ? example : "used are " + list_words(used));
    }
    if (joints[0] == joints[1])
        return cannot(ProblemCode::contradiction, "both cavities of '" + std::string(pair) + "' are one point",
                      example);
    auto mode =
        row(circuit, std::string(connector), cavity_bridge_words(std::string(connector), cavities[0], cavities[1]),
            FaultClass::joint, {ModeFact::may_touch});
    mode->size = contact_to_metal_range(default_value("bridge_ohm"));
    mode->looks = "wet crust melted";
    mode->changes = [from = joints[0], to = joints[1]](double ohms, double) {
        return std::vector<Change>{Connect{from, to, ohms}};
    };
    return ModePtr(std::move(mode));
}

BuiltMode build_swapped(const Circuit& circuit, std::string_view first, std::string_view second) {
    WireId a = circuit.find_wire(first);
    WireId b = circuit.find_wire(second);
    if (!a.valid()) return no_such_wire(circuit, first);
    if (!b.valid()) return no_such_wire(circuit, second);
    if (a == b)
        return cannot(ProblemCode::contradiction, "'" + std::string(first) + "' cannot be swapped with itself",
                      "name two wires");
    if (NaturalOrder()(circuit.wire(b).name, circuit.wire(a).name)) std::swap(a, b);  // one way to write it
    const Wire& one = circuit.wire(a);
    const Wire& two = circuit.wire(b);
    const Ends ends = ends_to_swap(one, two);
    const JointId joint_one = end_of(one, ends.first_wire_from).joint;
    const JointId joint_two = end_of(two, ends.second_wire_from).joint;
    if (joint_one == joint_two) {
        return cannot(ProblemCode::contradiction,
                      "'" + one.name + "' and '" + two.name + "' end at the same points; swapped they are the same",
                      "");
    }
    auto mode = row(circuit, one.name, {two.name, "wires " + one.name + " and " + two.name + " swapped"},
                    FaultClass::miswired, {});
    mode->head = "swapped";
    const auto move = [](const Wire& wire, bool from, JointId to) {
        return MoveEnd{from ? wire.first_half : wire.second_half, from, to};
    };
    const std::vector<Change> changes{move(one, ends.first_wire_from, joint_two),
                                      move(two, ends.second_wire_from, joint_one)};
    mode->changes = [changes](double, double) { return changes; };
    return ModePtr(std::move(mode));
}

ModePtr build_nothing() {
    auto mode = std::make_shared<FaultMode>();
    mode->place = mode->repair = "nothing";
    mode->plain = "nothing wrong in the circuit";
    mode->catalogued = false;
    mode->changes = [](double, double) { return std::vector<Change>{}; };
    return mode;
}

}  // namespace voltfall
