#include "netlists/phrases/fault_places.hpp"

#include <algorithm>

#include "netlists/phrases/places.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::optional<std::string> place_of_rows(const Circuit& circuit, std::string_view name) {
    for (const ModePtr& mode : circuit.modes) {
        if (same_word(mode->place, name)) return mode->place;
    }
    return std::nullopt;
}

/// The contact at a joint: a plug, socket, cavity or splice leg, not the part's own inside.
std::optional<std::string> contact_at(const Circuit& circuit, JointId joint) {
    std::optional<std::string> own;
    for (const Branch& branch : circuit.branches) {
        if ((branch.a != joint && branch.b != joint) || branch.wire.valid()) continue;
        const auto place = place_of_rows(circuit, branch.place);
        if (!place) continue;
        const bool is_part = branch.part.valid() && same_word(circuit.part(branch.part).name, *place);
        if (!is_part) return place;
        if (same_word(circuit.joint(joint).name, *place)) own = place;  // a ground is its own terminal
    }
    return own;
}

std::optional<std::string> place_at_joints(const Circuit& circuit, std::string_view typed) {
    for (const JointId joint : joints_named(circuit, typed)) {
        if (auto place = contact_at(circuit, joint)) return place;
    }
    return std::nullopt;
}

}  // namespace

std::optional<std::string> find_fault_place(const Circuit& circuit, std::string_view typed) {
    if (auto place = place_of_rows(circuit, typed)) return place;
    if (const WireId wire = circuit.find_wire(typed); wire.valid()) return circuit.wire(wire).name;
    if (circuit.find_part(typed).valid()) return std::nullopt;
    return place_at_joints(circuit, typed);
}

std::optional<std::string> find_wire_said(const Circuit& circuit, std::string_view typed) {
    if (const WireId wire = circuit.find_wire(std::string(typed)); wire.valid()) return circuit.wire(wire).name;
    const Wire* only = nullptr;
    for (const Wire& wire : circuit.wires) {
        if (!same_word(wire.from.terminal, typed) && !same_word(wire.to.terminal, typed)) continue;
        if (only) return std::nullopt;
        only = &wire;
    }
    return only ? std::optional(only->name) : std::nullopt;
}

std::vector<ModePtr> modes_at(const Circuit& circuit, std::string_view place) {
    std::vector<ModePtr> modes;
    std::copy_if(circuit.modes.begin(), circuit.modes.end(), std::back_inserter(modes),
                 [&](const ModePtr& mode) { return same_word(mode->place, place) && mode->head.empty(); });
    return modes;
}

std::vector<std::string> fault_place_names(const Circuit& circuit) {
    std::vector<std::string> names;
    for (const ModePtr& mode : circuit.modes) {
        if (std::find(names.begin(), names.end(), mode->place) == names.end()) names.push_back(mode->place);
    }
    return names;
}

std::vector<std::string> mode_words(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    const auto flush = [&] {
        if (!word.empty()) words.push_back(lower(word));
        word.clear();
    };
    for (const char c : text) {
        if (c == ' ' || c == '-')
            flush();
        else
            word += c;
    }
    flush();
    return words;
}

}  // namespace voltfall
