#include "netlists/phrases/position_words.hpp"

#include "netlists/phrases/sayings.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// `high` where a switch calls it `hi`, `low` where it calls it `lo`, and the other way round; else by their order.
std::optional<std::size_t> position_by_height(const Part& part, std::string_view word) {
    const bool high = is_said(height_sayings().first(1), word);
    const bool low = is_said(height_sayings().subspan(1, 1), word);
    if (!high && !low) return std::nullopt;
    const Sayings same = height_sayings().subspan(high ? 0 : 1, 1);
    std::vector<std::size_t> working;
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        if (is_said(same, part.positions[i].name)) return i;
        if (!same_word(part.positions[i].name, "off")) working.push_back(i);
    }
    // A switch that only switches on has neither.
    if (working.size() < 2) return std::nullopt;
    return high ? working.back() : working.front();
}

}  // namespace

std::vector<PositionMeaning> position_meanings(const Circuit& circuit, std::string_view word, bool& exact) {
    std::vector<PositionMeaning> exact_ones;
    std::vector<PositionMeaning> loose_ones;
    std::vector<PositionMeaning> by_height;
    for (const Control& control : circuit.controls) {
        if (control.part == circuit.key) continue;  // `key on` is its phrase
        const Part& part = circuit.part(control.part);
        for (std::size_t i = 0; i < part.positions.size(); ++i) {
            if (part.positions[i].name == word) exact_ones.push_back({control.part, i});
            if (same_word(part.positions[i].name, word)) loose_ones.push_back({control.part, i});
        }
        if (const auto position = position_by_height(part, word)) by_height.push_back({control.part, *position});
    }
    exact = !exact_ones.empty();
    if (exact) return exact_ones;
    return loose_ones.empty() ? by_height : loose_ones;
}

std::optional<std::size_t> position_called(const Part& part, std::string_view typed) {
    const auto named = part.position_named(typed);
    return named ? named : position_by_height(part, typed);
}

PartId control_called(const Circuit& circuit, const std::string& name) {
    if (const PartId part = circuit.find_part(name); part.valid()) return part;
    for (const Control& control : circuit.controls) {
        if (same_word(control.word, name)) return control.part;
    }
    return {};
}

}  // namespace voltfall
