#include "netlists/phrases/setting_words.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <span>
#include <string>

#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 5> leads{"with", "when", "while", "whenever", "as"};
constexpr std::array<std::string_view, 7> between{"is", "are", "was", "were", "turned", "switched", "set"};
constexpr std::size_t most_name_words = 3;

/// The only control that switches a load of this name; invalid where there is none, or several.
PartId control_of_load(const Circuit& circuit, const std::string& name) {
    PartId only;
    for (const Control& control : circuit.controls) {
        if (control.part == circuit.key) continue;
        const std::vector<PartId> loads = loads_switched_by(circuit, control.part);
        const bool switches = std::any_of(loads.begin(), loads.end(), [&](PartId load) {
            return same_word(circuit.part(load).name, name) || is_called(circuit.part(load), name);
        });
        if (!switches) continue;
        if (only.valid()) return {};
        only = control.part;
    }
    return only;
}

PartId control_named(const Circuit& circuit, const std::string& name) {
    for (const Control& control : circuit.controls) {
        if (control.part == circuit.key) continue;
        if (same_word(control.word, name) || same_word(circuit.part(control.part).name, name)) return control.part;
    }
    return control_of_load(circuit, name);
}

std::optional<std::string> setting_of(const Circuit& circuit, const std::string& name, bool on) {
    const PartId control = control_named(circuit, name);
    if (!control.valid()) return std::nullopt;
    const Part& part = circuit.part(control);
    if (part.rest_position >= part.positions.size() || (on && part.positions.size() != 2)) return std::nullopt;
    const std::size_t position = on ? 1 - part.rest_position : part.rest_position;
    return part.name + "=" + part.positions[position].name;
}

/// The clause that begins at a word: where it ends, and what it sets.
struct Clause {
    std::size_t end{};
    std::string setting;
};

std::optional<Clause> clause_at(const Circuit& circuit, std::span<const Word> words, std::size_t at) {
    if (!words[at].is_among(leads)) return std::nullopt;
    for (std::size_t count = 1; count <= most_name_words && at + count + 1 < words.size(); ++count) {
        std::size_t next = at + 1 + count;
        while (next < words.size() && words[next].is_among(between)) ++next;
        if (next >= words.size()) return std::nullopt;
        const bool on = same_word(words[next].text, "on") || same_word(words[next].text, "running");
        if (words[next].quoted || (!on && !same_word(words[next].text, "off"))) continue;
        if (auto setting = setting_of(circuit, words_as_typed(words.subspan(at + 1, count)), on))
            return Clause{next + 1, *std::move(setting)};
    }
    return std::nullopt;
}

}  // namespace

std::vector<Word> with_settings_said(const Circuit& circuit, std::vector<Word> words) {
    for (std::size_t at = 0; at < words.size(); ++at) {
        const auto clause = clause_at(circuit, words, at);
        if (!clause) continue;
        Word setting = words[at];
        setting.text = clause->setting;
        setting.measure.reset();
        setting.after_comma = false;
        const auto from = words.begin() + static_cast<std::ptrdiff_t>(at);
        words.erase(from, words.begin() + static_cast<std::ptrdiff_t>(clause->end));
        words.push_back(std::move(setting));
        return words;
    }
    return words;
}

}  // namespace voltfall
