#include "engine/planning/extra_states.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/probes.hpp"
#include "netlists/checks/survey.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Plugs taken off in turn while a lamp stands in the fuse's seat, at most.
constexpr std::size_t most_plugs_off = 8;

/// The position in which most is switched on: the last one.
std::string last_position(const Circuit& circuit) {
    return default_states(circuit).back().label;
}

double load_watts(const Job& job) {
    for (const Tool& tool : job.tools) {
        if (tool.name == "load" && tool.watts > 0) return tool.watts;
    }
    return 55;  // a headlamp bulb (common practice)
}

void add_loads(const Circuit& circuit, const Job& job, std::vector<ExtraState>& list) {
    for (const Part& part : circuit.parts) {
        if (!part.load_branch.valid() || part.plug.empty() || is_closed(circuit, part.name) || part.relay) continue;
        if (part.harness.size() != 2 || is_closed(circuit, part.plug)) continue;
        const JointId red = part.harness.begin()->second;
        const JointId black = part.harness.rbegin()->second;
        if (!is_permitted(circuit, red) || !is_permitted(circuit, black)) continue;
        const std::string two = circuit.joint(red).name + " to " + circuit.joint(black).name;
        const auto state = state_named(circuit, fmt::format("{}, unplug {}, load {:g}W {}", last_position(circuit),
                                                            part.plug, load_watts(job), two));
        if (!state) continue;
        list.push_back(
            {*state, ExtraState::Kind::load_in_place, two, red, black, {part.plug}, default_value("minutes_unplug")});
    }
}

/// The position in which the fuse was said to blow, else the last one.
std::string blowing_position(const Circuit& circuit, const Job& job, PartId fuse) {
    for (const Reading& reading : job.readings) {
        const auto* said = std::get_if<FuseReading>(&reading.measurement);
        if (!said || said->part != fuse || !said->at) continue;
        const std::vector<State> states = states_of(circuit, *said->at);
        if (!states.empty()) return states.front().label;
    }
    return last_position(circuit);
}

/// Connectors and plugs that the fuse's wires end at, in the order of the wires.
std::vector<std::string> plugs_behind(const Circuit& circuit, PartId fuse) {
    const Survey survey = survey_positions(circuit);
    std::vector<std::string> plugs;
    for (const WireId id : survey.guarded[fuse.index]) {
        for (const WireEnd* end : {&circuit.wire(id).from, &circuit.wire(id).to}) {
            if (!end->part.valid() || end->part == fuse) continue;
            const Part& part = circuit.part(end->part);
            const bool connector = part.kind && part.kind->word == "connector";
            const std::string& plug = connector ? part.name : part.plug;
            const bool known = std::any_of(plugs.begin(), plugs.end(),
                                           [&](const std::string& other) { return same_word(other, plug); });
            if (!plug.empty() && !known && !is_closed(circuit, plug)) plugs.push_back(plug);
        }
    }
    return plugs;
}

void add_lamps(const Circuit& circuit, const Job& job, std::vector<ExtraState>& list) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!part.fuse || is_closed(circuit, part.name) || !found_blown(circuit, job, {i})) continue;
        const Branch& element = circuit.branch(part.fuse->element);
        const std::string base = fmt::format("{}, lamp in {}", blowing_position(circuit, job, {i}), part.name);
        const auto add = [&](const std::string& phrase, std::vector<std::string> places, double minutes) {
            const auto state = state_named(circuit, phrase);
            if (!state) return;
            list.push_back({*state, ExtraState::Kind::lamp_in_seat, "across " + part.name, element.a, element.b,
                            std::move(places), minutes});
        };
        add(base, {part.name}, default_value("minutes_pull"));
        const std::vector<std::string> plugs = plugs_behind(circuit, {i});
        for (std::size_t k = 0; k < plugs.size() && k < most_plugs_off; ++k)
            add(fmt::format("{}, unplug {}", base, plugs[k]), {part.name, plugs[k]}, default_value("minutes_unplug"));
    }
}

}  // namespace

std::optional<State> state_named(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    const auto read = read_state_phrase(TypedText::argument("state", phrase), circuit, problems);
    if (!read || problems.has_errors()) return std::nullopt;
    State state = states_of(circuit, *read).front();
    state.label = phrase;
    return state;
}

bool found_blown(const Circuit& circuit, const Job& job, PartId fuse) {
    constexpr double across_open = 2;  // volts; a whole one drops a tenth
    const Branch& element = circuit.branch(circuit.part(fuse).fuse->element);
    bool blown = false;
    for (const Reading& reading : job.readings) {
        if (!reading.state.fitted_new.empty()) continue;
        if (const auto* said = std::get_if<FuseReading>(&reading.measurement); said && said->part == fuse)
            blown = said->word != "good";
        const auto* volts = std::get_if<VoltsReading>(&reading.measurement);
        if (!volts || volts->red.joints.size() != 1 || volts->black.joints.size() != 1) continue;
        const JointId red = volts->red.joints.front();
        const JointId black = volts->black.joints.front();
        const bool across = (red == element.a && black == element.b) || (red == element.b && black == element.a);
        if (across && std::abs(volts->value.low) > across_open) blown = true;
    }
    return blown;
}

bool has_tool(const Job& job, const std::string& name) {
    if (job.tools.empty()) return name != "load";
    return std::any_of(job.tools.begin(), job.tools.end(),
                       [&](const Tool& tool) { return same_word(tool.name, name); });
}

std::vector<ExtraState> extra_states(const Circuit& circuit, const Job& job) {
    std::vector<ExtraState> list;
    if (!has_tool(job, "meter")) return list;
    if (has_tool(job, "load")) add_loads(circuit, job, list);
    if (has_tool(job, "lamp")) add_lamps(circuit, job, list);
    return list;
}

}  // namespace voltfall
