#include "engine/solve/state.hpp"

#include <algorithm>
#include <string_view>

#include "netlists/parts/kind.hpp"

namespace voltfall {

namespace {

bool same_lead(const AddedLead& one, const AddedLead& other) {
    return one.kind == other.kind && one.a == other.a && one.b == other.b && one.watts == other.watts;
}

bool is_kind(const Part& part, std::string_view word) {
    return part.kind && part.kind->word == word;
}

/// A switch's off, else its first position; a contact's position at work.
std::size_t idle_position(const Part& part) {
    if (const auto off = part.position_named("off")) return *off;
    return is_kind(part, "switch") ? 0 : part.rest_position;
}

/// Does that position mean that someone has switched something on?
bool is_at_work(const Part& part, std::size_t position) {
    if (const auto off = part.position_named("off")) return position != *off;
    // A switch without an off is always on; a contact is set by pressure or heat, not by a person.
    return is_kind(part, "switch");
}

std::vector<PartId> controls_of(const Circuit& circuit) {
    std::vector<PartId> parts;
    for (const Control& control : circuit.controls) parts.push_back(control.part);
    if (!parts.empty()) return parts;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (is_kind(circuit.parts[i], "switch")) parts.push_back({static_cast<std::uint32_t>(i)});
    }
    if (!parts.empty()) return parts;
    // Nothing else to set: what runs is switched by contacts that rest open.
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        if (is_kind(circuit.parts[i], "contact") &&
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
        if (is_at_work(circuit.part(control), state.positions[control.index])) return KeyPosition::run;
    }
    return KeyPosition::on;
}

std::string position_label(const Circuit& circuit, PartId part, std::size_t position, bool with_name) {
    const Part& of = circuit.part(part);
    const std::string word = position < of.positions.size() ? of.positions[position].name : "?";
    return with_name ? of.name + "=" + word : word;
}

class Label {
public:
    void add(std::string_view piece) {
        if (piece.empty()) return;
        if (!text_.empty()) text_ += ", ";
        text_ += piece;
    }
    void add_all(std::string_view verb, const std::vector<std::string>& things) {
        for (const std::string& thing : things) add(std::string(verb) + thing);
    }
    void add_parts(std::string_view verb, const Circuit& circuit, const std::vector<PartId>& parts) {
        for (const PartId part : parts) add(std::string(verb) + circuit.part(part).name);
    }
    const std::string& text() const { return text_; }

private:
    std::string text_;
};

/// Positions are named where there is one control, else `S1=hi`. Without any setting: off, or the key.
std::string label_of(const Circuit& circuit, const State& state, const StatePhrase& phrase) {
    const std::vector<PartId> controls = controls_of(circuit);
    Label label;
    for (const ControlSetting& setting : phrase.settings) {
        const bool plain = controls.size() == 1 && controls[0] == setting.part;
        label.add(position_label(circuit, setting.part, state.positions[setting.part.index], !plain));
    }
    if (phrase.settings.empty() && controls.size() == 1) {
        label.add(position_label(circuit, controls[0], state.positions[controls[0].index], false));
    }
    if (phrase.key) label.add("key " + std::string(key_word(*phrase.key)));
    label.add_all("unplug ", phrase.unplugged);
    label.add_parts("pull ", circuit, phrase.pulled);
    label.add_parts("lamp in ", circuit, phrase.lamp_in);
    label.add_parts("new ", circuit, phrase.fitted_new);
    for (const AddedLead& lead : phrase.leads) label.add(lead.text);
    label.add_all("", phrase.handled);
    label.add_all("", phrase.conditions);
    if (label.text().empty()) return controls.empty() ? "key " + std::string(key_word(state.key)) : "off";
    return label.text();
}

}  // namespace

bool State::operator==(const State& other) const {
    return key == other.key && positions == other.positions && unplugged == other.unplugged && pulled == other.pulled &&
           lamp_in == other.lamp_in && fitted_new == other.fitted_new && conditions == other.conditions &&
           handled == other.handled && supply_volts == other.supply_volts &&
           std::equal(leads.begin(), leads.end(), other.leads.begin(), other.leads.end(), same_lead);
}

std::vector<State> default_states(const Circuit& circuit) {
    const std::vector<PartId> controls = controls_of(circuit);
    std::vector<State> states;
    for (const PartId control : controls) {
        for (std::size_t position = 0; position < circuit.part(control).positions.size(); ++position) {
            State state = idle_state(circuit);
            state.positions[control.index] = position;
            state.key = key_by_controls(circuit, state);
            state.label = position_label(circuit, control, position, controls.size() > 1);
            // All at off is one state, whichever control is named.
            if (std::find(states.begin(), states.end(), state) == states.end()) states.push_back(std::move(state));
        }
    }
    if (states.empty()) {
        State state = idle_state(circuit);
        state.label = "key on";
        states.push_back(std::move(state));
    }
    return states;
}

std::vector<State> states_of(const Circuit& circuit, const StatePhrase& phrase) {
    State base = idle_state(circuit);
    base.unplugged = phrase.unplugged;
    base.pulled = phrase.pulled;
    base.lamp_in = phrase.lamp_in;
    base.fitted_new = phrase.fitted_new;
    base.leads = phrase.leads;
    base.conditions = phrase.conditions;
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
        state.key = phrase.key ? *phrase.key : key_by_controls(circuit, state);
        state.label = label_of(circuit, state, phrase);
    }
    return states;
}

}  // namespace voltfall
