#include "engine/solve/state.hpp"

#include <algorithm>
#include <string_view>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/state_words.hpp"

namespace voltfall {

namespace {

/// A switch's off, else its first position; a contact's position at work.
std::size_t idle_position(const Part& part) {
    if (const auto off = part.position_named("off")) return *off;
    return has_duty(part, Duty::control) ? 0 : part.rest_position;
}

/// Does that position mean that someone has switched something on?
bool is_at_work(const Part& part, std::size_t position) {
    if (const auto off = part.position_named("off")) return position != *off;
    // A switch without an off is always on; a contact is set by pressure or heat, not by a person.
    return has_duty(part, Duty::control);
}

std::vector<PartId> controls_of(const Circuit& circuit) {
    std::vector<PartId> parts;
    for (const Control& control : circuit.controls) parts.push_back(control.part);
    if (!parts.empty()) return parts;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (has_duty(circuit.parts[i], Duty::control)) parts.push_back({static_cast<std::uint32_t>(i)});
    }
    if (!parts.empty()) return parts;
    // Nothing else to set: what runs is switched by contacts that rest open.
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        if (has_duty(circuit.parts[i], Duty::acting_contact) &&
            circuit.parts[i].rest_position == circuit.parts[i].position_named("open")) {
            parts.push_back({i});
        }
    }
    return parts;
}

State idle_state(const Circuit& circuit) {
    State state;
    state.positions.reserve(circuit.parts.size());
    for (const Part& part : circuit.parts) state.positions.push_back(idle_position(part));
    return state;
}

KeyPosition key_by_controls(const Circuit& circuit, const State& state) {
    for (const PartId control : controls_of(circuit)) {
        if (control == circuit.key) continue;
        if (is_at_work(circuit.part(control), state.positions[control.index])) return KeyPosition::run;
    }
    return KeyPosition::on;
}

/// Sets the key, and the position of a drawn one with it: however a state is typed, it is the same state.
void set_key(const Circuit& circuit, State& state, KeyPosition key) {
    state.key = key;
    if (!circuit.key.valid()) return;
    const Part& part = circuit.part(circuit.key);
    state.positions[circuit.key.index] = drawn_key_position(part, key).value_or(idle_position(part));
}

/// The phrase of one state, without what no state carries. The only control of a circuit is always said; a state of
/// several that says nothing is "off".
std::string label_of(const Circuit& circuit, const State& state, StatePhrase phrase) {
    phrase.earlier = phrase.sometimes = false;
    phrase.after_seconds.reset();
    for (ControlSetting& setting : phrase.settings) setting.positions = {state.positions[setting.part.index]};
    const std::vector<PartId> controls = controls_of(circuit);
    const bool key_alone = controls.size() == 1 && controls[0] == circuit.key;
    if (phrase.settings.empty() && controls.size() == 1 && !key_alone)
        phrase.settings.push_back({controls[0], {state.positions[controls[0].index]}});
    const std::string label = write_state(circuit, phrase);
    if (label.empty()) return controls.empty() || key_alone ? "key " + std::string(key_word(state.key)) : "off";
    return label;
}

}  // namespace

bool State::operator==(const State& other) const {
    return key == other.key && positions == other.positions && unplugged == other.unplugged && pulled == other.pulled &&
           lamp_in == other.lamp_in && fitted_new == other.fitted_new && new_plugs == other.new_plugs &&
           mended == other.mended && conditions == other.conditions && handled == other.handled &&
           supply_volts == other.supply_volts && leads == other.leads;
}

std::vector<StatePhrase> default_phrases(const Circuit& circuit) {
    std::vector<State> states;
    std::vector<StatePhrase> phrases;
    for (const PartId control : controls_of(circuit)) {
        const Part& part = circuit.part(control);
        for (std::size_t position = 0; position < part.positions.size(); ++position) {
            StatePhrase phrase;
            if (control == circuit.key)
                phrase.key = key_named(part.positions[position].name);
            else
                phrase.settings = {{control, {position}}};
            State state = states_of(circuit, phrase).front();
            // All at off is one state, whichever control is named.
            if (std::find(states.begin(), states.end(), state) != states.end()) continue;
            states.push_back(std::move(state));
            phrases.push_back(std::move(phrase));
        }
    }
    if (phrases.empty()) phrases.emplace_back().key = KeyPosition::on;
    return phrases;
}

std::vector<State> default_states(const Circuit& circuit) {
    std::vector<State> states;
    for (const StatePhrase& phrase : default_phrases(circuit)) states.push_back(states_of(circuit, phrase).front());
    return states;
}

StatePhrase definite(const Circuit& circuit, StatePhrase phrase) {
    for (ControlSetting& setting : phrase.settings)
        setting.positions.resize(std::min<std::size_t>(setting.positions.size(), 1));
    const State state = states_of(circuit, phrase).front();
    const std::vector<PartId> controls = controls_of(circuit);
    if (phrase.settings.empty() && controls.size() == 1 && controls[0] != circuit.key)
        phrase.settings.push_back({controls[0], {state.positions[controls[0].index]}});
    phrase.key = state.key;
    return phrase;
}

std::vector<State> states_of(const Circuit& circuit, const StatePhrase& phrase) {
    State base = idle_state(circuit);
    base.unplugged = phrase.unplugged;
    base.pulled = phrase.pulled;
    base.lamp_in = phrase.lamp_in;
    base.fitted_new = phrase.fitted_new;
    base.new_plugs = phrase.new_plugs;
    base.mended = phrase.mended;
    base.leads = phrase.leads;
    base.conditions = phrase.conditions;
    const bool long_run = phrase.after_seconds && *phrase.after_seconds >= hot_after;
    if (long_run && base.conditions.empty()) base.conditions.emplace_back("hot");
    base.handled = phrase.handled;
    std::vector<State> states{base};
    for (const ControlSetting& setting : phrase.settings) {
        if (setting.positions.empty()) continue;
        std::vector<State> more;
        for (const State& state : states) {
            for (const std::size_t position : setting.positions) {
                more.push_back(state);
                more.back().positions[setting.part.index] = position;
            }
        }
        states = std::move(more);
    }
    for (State& state : states) {
        set_key(circuit, state, phrase.key ? *phrase.key : key_by_controls(circuit, state));
        state.label = label_of(circuit, state, phrase);
    }
    return states;
}

}  // namespace voltfall
