#include "engine/lessons/safety.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <queue>

#include "engine/readings/probes.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// More than this through a clipped lead is a short or a whole load: its small fuse is gone (one maker: 5 A).
constexpr double most_lead_amps = 30;

constexpr std::array<std::string_view, 4> airbag_words{"airbag", "srs", "belt", "tensioner"};

bool names_airbag(const std::string& words) {
    const std::string text = lower(words);
    return std::any_of(airbag_words.begin(), airbag_words.end(),
                       [&](std::string_view word) { return text.find(word) != std::string::npos; });
}

/// The words of [closed] that hold at a joint, with the place; empty where none do.
std::pair<std::string, std::string> closed_words(const Circuit& circuit, JointId joint) {
    const auto is_at = [&](const std::string& name, const std::string& place) {
        return same_word(name, place) || is_cavity_of(name, place);
    };
    const Joint& at = circuit.joint(joint);
    for (const auto& [place, words] : circuit.closed) {
        bool here = is_at(at.place, place) || is_at(at.name, place);
        for (const std::string& alias : at.aliases) here |= is_at(alias, place);
        // A part's own pins are closed with the part, whatever its plug is called.
        const PartId part = circuit.find_part(place);
        if (part.valid()) {
            for (const auto* side : {&circuit.part(part).pins, &circuit.part(part).harness}) {
                for (const auto& [terminal, one] : *side) here |= one == joint;
            }
        }
        if (here) return {place, words};
    }
    return {};
}

std::vector<JointId> joints_of(const Tested& tested) {
    std::vector<JointId> joints;
    const Leads* leads = leads_of(tested);
    if (!leads) return joints;
    for (const Point* point : {&leads->red, &leads->black}) {
        if (!point->joints.empty()) joints.push_back(point->joints.front());
    }
    return joints;
}

/// The pin of a part whose socket or plug is this joint; the joint itself where there is none.
JointId pin_behind(const Circuit& circuit, JointId joint) {
    for (const Part& part : circuit.parts) {
        for (const auto& [terminal, harness] : part.harness) {
            if (harness == joint) return part.pins.at(terminal);
        }
    }
    return joint;
}

/// Joints that hang on battery plus with no fuse between, every contact closed.
std::vector<bool> unfused(const Circuit& circuit) {
    std::vector<bool> reached(circuit.joints.size(), false);
    std::queue<JointId> queue;
    const auto reach = [&](JointId joint) {
        if (!joint.valid() || reached[joint.index]) return;
        reached[joint.index] = true;
        queue.push(joint);
    };
    reach(circuit.bus_30);
    reach(circuit.bus_15);
    reach(circuit.part(circuit.battery).pins.at("+"));
    while (!queue.empty()) {
        const JointId joint = queue.front();
        queue.pop();
        for (const Branch& branch : circuit.branches) {
            const bool fuse = branch.part.valid() && circuit.part(branch.part).fuse &&
                              &circuit.branch(circuit.part(branch.part).fuse->element) == &branch;
            const bool source = sort_of(branch.law) == LawSort::source;
            const bool load = branch.part.valid() && circuit.part(branch.part).load_branch.valid() &&
                              &circuit.branch(circuit.part(branch.part).load_branch) == &branch;
            const bool coil = branch.part.valid() && circuit.part(branch.part).relay &&
                              &circuit.branch(circuit.part(branch.part).relay->coil) == &branch;
            if (fuse || source || load || coil) continue;
            if (branch.a == joint) reach(branch.b);
            if (branch.b == joint) reach(branch.a);
        }
    }
    return reached;
}

std::optional<std::string> unsafe_lead(Simulator& simulator, const Vehicle& vehicle, const AddedLead& lead,
                                       const State& state) {
    const Circuit& circuit = *vehicle.circuit;
    const std::vector<bool> live = unfused(circuit);
    if (lead.kind == AddedLead::Kind::jumper && live[lead.a.index] != live[lead.b.index])
        return fmt::format(
            "'{}' goes around the fuse: with a short behind it nothing would stop the current, and the "
            "harness burns",
            write_lead(circuit, lead));
    if (lead.kind == AddedLead::Kind::load) return std::nullopt;
    const CourseResult run = run_course(simulator, circuit, state, vehicle.faults, vehicle.opened_parts());
    if (!run) return std::nullopt;
    // The lead is the only branch of its ohms between its ends.
    const Settled& now = run->faulted;
    for (std::size_t i = circuit.branches.size(); i < now.network.branches.size(); ++i) {
        const double ohms = std::get<Resistor>(now.network.branches[i].law).ohms;
        if (ohms != lead_ohms || !(std::abs(now.point.amps[i]) > most_lead_amps)) continue;
        return fmt::format(
            "'{}' carries {:.0f} A: a lead onto a short or in place of a whole load; a jumper is a fused "
            "one, and never across a short",
            write_lead(circuit, lead), std::abs(now.point.amps[i]));
    }
    return std::nullopt;
}

}  // namespace

std::optional<std::string> unsafe_test(Simulator& simulator, const Vehicle& vehicle, const Test& test,
                                       const State& state) {
    const Circuit& circuit = *vehicle.circuit;
    const bool lamp = std::holds_alternative<LampTest>(test.tested);
    std::vector<JointId> loaded;
    for (const AddedLead& lead : test.state.leads) {
        loaded.push_back(lead.a);
        if (lead.b.valid()) loaded.push_back(lead.b);
    }
    std::vector<JointId> touched = joints_of(test.tested);
    if (lamp) loaded.insert(loaded.end(), touched.begin(), touched.end());
    touched.insert(touched.end(), loaded.begin(), loaded.end());
    for (const JointId joint : touched) {
        const auto [place, words] = closed_words(circuit, joint);
        if (!place.empty() && names_airbag(words))
            return fmt::format(
                "{} belongs to an airbag circuit ({}): a lead, a lamp or a meter there can fire it; such "
                "circuits are never probed",
                place, words);
    }
    // A lead at the other end of a wire loads an output as much.
    for (const Wire& wire : circuit.wires) {
        const auto is_loaded = [&](JointId joint) {
            return std::find(loaded.begin(), loaded.end(), joint) != loaded.end();
        };
        if (is_loaded(wire.from.joint) || is_loaded(wire.to.joint) || is_loaded(pin_behind(circuit, wire.from.joint)) ||
            is_loaded(pin_behind(circuit, wire.to.joint))) {
            loaded.push_back(wire.from.joint);
            loaded.push_back(wire.to.joint);
        }
    }
    for (const JointId joint : loaded) {
        const auto [place, words] = closed_words(circuit, joint);
        if (place.empty()) continue;
        if (names_airbag(words)) continue;
        if (lower(words).find("electronic") != std::string::npos)
            return fmt::format(
                "{} is an electronic output ({}): a lamp or lead loads it beyond what it can carry and "
                "destroys it; a meter is the tool there",
                place, words);
        return fmt::format("{} is closed to leads and lamps ({})", place, words);
    }
    for (const AddedLead& lead : test.state.leads) {
        if (auto reason = unsafe_lead(simulator, vehicle, lead, state)) return reason;
    }
    return std::nullopt;
}

std::optional<std::string> unsafe_fuse(const Part& fuse, double amps) {
    if (amps <= fuse.fuse->rating_amps) return std::nullopt;
    return fmt::format(
        "a fuse of {:.3g} A where the diagram says {:.3g} A: the wires behind it are not made for that, "
        "and burn before it opens; same rating and type, and find the cause",
        amps, fuse.fuse->rating_amps);
}

std::optional<std::string> closed_to_probe(const Circuit& circuit, const Test& test) {
    for (const JointId joint : joints_of(test.tested)) {
        const auto [place, words] = closed_words(circuit, joint);
        if (!place.empty() && lower(words).find("electronic") == std::string::npos)
            return fmt::format("{} is closed to probes: {}", place, words);
        if (circuit.joint(joint).access == Access::inside)
            return fmt::format("{} is inside a part or under insulation: no probe goes there",
                               circuit.joint(joint).name);
    }
    return std::nullopt;
}

}  // namespace voltfall
