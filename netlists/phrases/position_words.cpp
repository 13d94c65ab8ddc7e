#include "netlists/phrases/position_words.hpp"

#include <algorithm>
#include <array>

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
    const auto off = part.position_named("off");
    std::vector<std::size_t> working;
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        if (is_said(same, part.positions[i].name)) return i;
        if (off != i) working.push_back(i);
    }
    // A switch that only switches on has neither.
    if (working.size() < 2) return std::nullopt;
    return high ? working.back() : working.front();
}

/// `second` speed, counted from the least one that is on; only where the switch calls none so itself.
std::optional<std::size_t> position_by_order(const Part& part, std::string_view word) {
    // `I` alone is also the person who writes.
    static constexpr std::array<std::array<std::string_view, 3>, 5> orders{{{"first", "1st", "1st"},
                                                                            {"second", "2nd", "II"},
                                                                            {"third", "3rd", "III"},
                                                                            {"fourth", "4th", "IV"},
                                                                            {"fifth", "5th", "5th"}}};
    const auto off = part.position_named("off");
    std::vector<std::size_t> working;
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        if (off != i) working.push_back(i);
    }
    if (working.size() < 2) return std::nullopt;
    for (std::size_t i = 0; i < orders.size() && i < working.size(); ++i) {
        if (std::any_of(orders[i].begin(), orders[i].end(), [&](auto one) { return same_word(one, word); }))
            return working[i];
    }
    // Of three the one between.
    const bool middle = same_word(word, "medium") || same_word(word, "middle") || same_word(word, "med");
    return middle && working.size() == 3 ? std::optional(working[1]) : std::nullopt;
}

std::optional<std::size_t> position_by_rank(const Part& part, std::string_view word) {
    const auto by_height = position_by_height(part, word);
    return by_height ? by_height : position_by_order(part, word);
}

}  // namespace

std::vector<PositionMeaning> position_meanings(const Circuit& circuit, std::string_view word, bool& exact) {
    std::vector<PositionMeaning> exact_ones;
    std::vector<PositionMeaning> loose_ones;
    std::vector<PositionMeaning> by_rank;
    for (const Control& control : circuit.controls) {
        if (control.part == circuit.key) continue;  // `key on` is its phrase
        const Part& part = circuit.part(control.part);
        for (std::size_t i = 0; i < part.positions.size(); ++i) {
            if (part.positions[i].name == word) exact_ones.push_back({control.part, i});
            if (same_word(part.positions[i].name, word)) loose_ones.push_back({control.part, i});
        }
        if (const auto off = part.position_named("off"); off && same_word(word, "off"))
            by_rank.push_back({control.part, *off});
        if (const auto position = position_by_rank(part, word)) by_rank.push_back({control.part, *position});
    }
    exact = !exact_ones.empty();
    if (exact) return exact_ones;
    return loose_ones.empty() ? by_rank : loose_ones;
}

std::optional<std::size_t> position_called(const Part& part, std::string_view typed) {
    const auto named = part.position_named(typed);
    return named ? named : position_by_rank(part, typed);
}

std::optional<std::size_t> position_numbered(const Part& part, std::string_view typed) {
    const auto is_number = [](std::string_view text) {
        return text.find_first_not_of("0123456789") == std::string_view::npos;
    };
    if (typed.size() != 1 || !is_number(typed)) return std::nullopt;
    const auto off = part.position_named("off");
    std::size_t counted = 0;
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        if (is_number(part.positions[i].name)) return std::nullopt;
        if (off != i && ++counted == static_cast<std::size_t>(typed.front() - '0')) return i;
    }
    return std::nullopt;
}

PartId control_called(const Circuit& circuit, const std::string& name) {
    if (const PartId part = circuit.find_part(name); part.valid()) return part;
    for (const Control& control : circuit.controls) {
        if (same_word(control.word, name)) return control.part;
    }
    return {};
}

}  // namespace voltfall
