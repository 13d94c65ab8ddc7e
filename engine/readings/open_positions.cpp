#include "engine/readings/open_positions.hpp"

#include <algorithm>
#include <cmath>

#include "engine/readings/measurement_facts.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

std::vector<double> values_read(const Circuit& circuit, const Reading& reading, const Settled& settled) {
    const auto volts = [&](JointId joint) { return settled.floats(joint) ? 0.0 : settled.point.volts[joint.index]; };
    const auto between = [&](const Point& red, const Point& black) {
        const JointId b = black.joints.empty() ? circuit.reference : black.joints[0];
        return volts(red.joints[0]) - volts(b);
    };
    const auto load_volts = [&](PartId part) { return load_state(settled, part, nullptr).volts; };
    using Values = std::vector<double>;
    return std::visit(
        Overloaded{
            [&](const VoltsReading& m) { return Values{between(m.red, m.black)}; },
            [&](const LampReading& m) { return Values{between(m.red, m.black)}; },
            [&](const LiveReading& m) { return Values{between(m.red, m.black)}; },
            [&](const AmpsReading& m) { return Values{wire_amps(settled, m.wire).from}; },
            [&](const LoadReading& m) { return Values{load_volts(m.part)}; },
            [&](const RelayReading& m) { return Values{settled.relay_pulled[m.part.index] ? 12.0 : 0.0}; },
            [&](const AirReading&) {
                Values all;
                for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
                    if (load_kind_of(circuit.parts[i]) == LoadKind::motor) all.push_back(load_volts({i}));
                }
                return all;
            },
            // What is measured with the supply off, felt or looked at tells no position.
            alike<OhmsReading, BeepReading, HeatReading, HotterReading, FuseReading, GoodReading, LookReading,
                  DragReading, RippleReading, SmellReading, DutyReading, RatingReading, QuantityReading, NoMeasurement>(
                [] { return Values{}; }),
        },
        reading.measurement);
}

namespace {

/// A healthy reading that moves less than this between positions does not depend on the control (volts or amperes).
constexpr double moves = 0.3;
/// No more combinations than this; a reading that leaves more open says next to nothing.
constexpr std::size_t most_states = 16;

/// Does the healthy reading change over the control's positions, from this state?
bool matters(Simulator& simulator, const Circuit& circuit, const Reading& reading, State state, PartId control) {
    std::vector<double> low;
    std::vector<double> high;
    for (std::size_t position = 0; position < circuit.part(control).positions.size(); ++position) {
        state.positions[control.index] = position;
        const auto settled = settle(simulator, circuit, state, {});
        if (!settled) continue;
        const std::vector<double> values = values_read(circuit, reading, *settled);
        if (low.empty()) low = high = values;
        for (std::size_t i = 0; i < values.size(); ++i) {
            low[i] = std::min(low[i], values[i]);
            high[i] = std::max(high[i], values[i]);
        }
    }
    for (std::size_t i = 0; i < low.size(); ++i) {
        if (high[i] - low[i] > moves) return true;
    }
    return false;
}

/// A load is looked at with its control on; what glows or creeps may well do so with its control off.
bool is_seen_on(const Reading& reading) {
    const auto* load = std::get_if<LoadReading>(&reading.measurement);
    return facts_of(reading.measurement).of_a_load && !(load && load->word == "glows");
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
    // A load that runs with the key off is one that its control turns on with the key on.
    const bool of_a_load = facts_of(reading.measurement).of_a_load;
    State running = all_on;
    running.key = KeyPosition::run;
    for (const PartId control : open) {
        const auto matters_from = [&](const State& from) {
            return matters(simulator, circuit, reading, from, control);
        };
        if (!matters_from(state) && !matters_from(all_on) && !(of_a_load && matters_from(running))) continue;
        std::vector<State> more;
        for (const State& base : states) {
            for (std::size_t position = 0; position < circuit.part(control).positions.size(); ++position) {
                if (is_seen_on(reading) && position == circuit.part(control).rest_position) continue;
                State possible = base;
                possible.positions[control.index] = position;
                if (!reading.state.key && position != circuit.part(control).rest_position)
                    possible.key = KeyPosition::run;
                more.push_back(std::move(possible));
            }
        }
        if (more.size() > most_states) continue;
        states = std::move(more);
    }
    return states;
}

}  // namespace voltfall
