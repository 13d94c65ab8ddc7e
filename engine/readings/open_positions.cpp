#include "engine/readings/open_positions.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

/// A healthy reading that moves less than this between positions does not depend on the control (volts or amperes).
constexpr double moves = 0.3;
/// No more combinations than this; a reading that leaves more open says next to nothing.
constexpr std::size_t most_states = 16;

/// The healthy numbers that the reading looks at.
std::vector<double> healthy_values(const Circuit& circuit, const Reading& reading, const Settled& settled) {
    const auto volts = [&](JointId joint) { return settled.floats(joint) ? 0.0 : settled.point.volts[joint.index]; };
    const auto between = [&](const Point& red, const Point& black) {
        const JointId b = black.joints.empty() ? circuit.reference : black.joints[0];
        return red.joints.empty() ? 0.0 : volts(red.joints[0]) - volts(b);
    };
    if (const auto* v = std::get_if<VoltsReading>(&reading.measurement)) return {between(v->red, v->black)};
    if (const auto* v = std::get_if<LampReading>(&reading.measurement)) return {between(v->red, v->black)};
    if (const auto* v = std::get_if<LiveReading>(&reading.measurement)) return {between(v->red, v->black)};
    if (const auto* v = std::get_if<AmpsReading>(&reading.measurement)) return {wire_amps(settled, v->wire).from};
    if (const auto* v = std::get_if<LoadReading>(&reading.measurement))
        return {load_state(settled, v->part, nullptr).volts};
    if (const auto* v = std::get_if<RelayReading>(&reading.measurement)) {
        return {settled.relay_pulled[v->part.index] ? 12.0 : 0.0};
    }
    std::vector<double> all;
    if (std::holds_alternative<AirReading>(reading.measurement)) {
        for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
            const BranchId load = circuit.parts[i].load_branch;
            if (!load.valid() || sort_of(circuit.branch(load).law) != LawSort::motor) continue;
            all.push_back(load_state(settled, {static_cast<std::uint32_t>(i)}, nullptr).volts);
        }
    }
    return all;
}

bool is_word(const Reading& reading) {
    return std::holds_alternative<LoadReading>(reading.measurement) ||
           std::holds_alternative<AirReading>(reading.measurement) ||
           std::holds_alternative<RelayReading>(reading.measurement);
}

/// Does the healthy reading change over the control's positions, from this state?
bool matters(Simulator& simulator, const Circuit& circuit, const Reading& reading, State state, PartId control) {
    std::vector<double> low;
    std::vector<double> high;
    for (std::size_t position = 0; position < circuit.part(control).positions.size(); ++position) {
        state.positions[control.index] = position;
        const auto settled = settle(simulator, circuit, state, {});
        if (!settled) continue;
        const std::vector<double> values = healthy_values(circuit, reading, *settled);
        if (low.empty()) low = high = values;
        for (std::size_t i = 0; i < values.size() && i < low.size(); ++i) {
            low[i] = std::min(low[i], values[i]);
            high[i] = std::max(high[i], values[i]);
        }
    }
    for (std::size_t i = 0; i < low.size(); ++i) {
        if (high[i] - low[i] > moves) return true;
    }
    return false;
}

std::vector<PartId> unnamed_controls(const Circuit& circuit, const StatePhrase& phrase) {
    std::vector<PartId> open;
    for (const Control& control : circuit.controls) {
        const bool named = std::any_of(phrase.settings.begin(), phrase.settings.end(),
                                       [&](const ControlSetting& setting) { return setting.part == control.part; });
        if (!named && circuit.part(control.part).positions.size() > 1) open.push_back(control.part);
    }
    return open;
}

}  // namespace

std::vector<State> open_positions(Simulator& simulator, const Circuit& circuit, const Reading& reading,
                                  const State& state) {
    std::vector<State> states{state};
    const std::vector<PartId> open = unnamed_controls(circuit, reading.state);
    State all_on = state;
    for (const PartId control : open) all_on.positions[control.index] = circuit.part(control).positions.size() - 1;
    for (const PartId control : open) {
        if (!matters(simulator, circuit, reading, state, control) &&
            !matters(simulator, circuit, reading, all_on, control))
            continue;
        std::vector<State> more;
        for (const State& base : states) {
            for (std::size_t position = 0; position < circuit.part(control).positions.size(); ++position) {
                if (is_word(reading) && position == circuit.part(control).rest_position) continue;
                State possible = base;
                possible.positions[control.index] = position;
                if (!reading.state.key && position != circuit.part(control).rest_position)
                    possible.key = KeyPosition::run;
                more.push_back(std::move(possible));
            }
        }
        if (more.empty() || more.size() > most_states) continue;
        states = std::move(more);
    }
    return states;
}

}  // namespace voltfall
