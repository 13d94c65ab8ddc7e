// Writes a state as the phrase that reads as it.
#include <fmt/format.h>

#include "netlists/phrases/state_words.hpp"

namespace voltfall {

namespace {

class Pieces {
public:
    void add(std::string_view piece) {
        if (!text_.empty()) text_ += ", ";
        text_ += piece;
    }
    void add_parts(std::string_view verb, const Circuit& circuit, const std::vector<PartId>& parts) {
        for (const PartId part : parts) add(std::string(verb) + circuit.part(part).name);
    }
    const std::string& text() const { return text_; }

private:
    std::string text_;
};

std::string write_position(const Circuit& circuit, PartId part, std::size_t position) {
    const Part& of = circuit.part(part);
    const std::string word = position < of.positions.size() ? of.positions[position].name : "?";
    return stands_alone(circuit, part, word) ? word : of.name + "=" + word;
}

}  // namespace

std::string write_lead(const Circuit& circuit, const AddedLead& lead) {
    const std::string& a = circuit.joint(lead.a).name;
    switch (lead.kind) {
        case AddedLead::Kind::jumper:
            return "jumper " + a + " to " + circuit.joint(lead.b).name;
        case AddedLead::Kind::feed:
            return "feed " + a;
        case AddedLead::Kind::load:
            return fmt::format("load {:g}W {} to {}", lead.watts, a, circuit.joint(lead.b).name);
    }
    return {};
}

std::string write_state(const Circuit& circuit, const StatePhrase& state) {
    Pieces pieces;
    if (state.earlier) pieces.add("earlier");
    if (state.sometimes) pieces.add("sometimes");
    for (const ControlSetting& setting : state.settings) {
        for (const std::size_t position : setting.positions)
            pieces.add(write_position(circuit, setting.part, position));
    }
    if (state.key) pieces.add("key " + std::string(key_word(*state.key)));
    for (const std::string& place : state.unplugged) pieces.add("unplug " + place);
    pieces.add_parts("pull ", circuit, state.pulled);
    pieces.add_parts("lamp in ", circuit, state.lamp_in);
    pieces.add_parts("new ", circuit, state.fitted_new);
    for (const std::string& plug : state.new_plugs) pieces.add("new " + plug);
    for (const AddedLead& lead : state.leads) pieces.add(write_lead(circuit, lead));
    for (const std::string& words : state.handled) pieces.add(words);
    for (const std::string& condition : state.conditions)
        pieces.add(is_condition_word(condition) ? condition : "\"" + condition + "\"");
    if (state.after_seconds) pieces.add(fmt::format("after {:g}s", *state.after_seconds));
    return pieces.text();
}

}  // namespace voltfall
