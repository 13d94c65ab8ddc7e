#include "netlists/phrases/place_pattern.hpp"

#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/fault_places.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

bool joins_wires(const Circuit& circuit, std::string_view place) {
    if (find_connector(circuit, place)) return true;
    const PartId part = circuit.find_part(place);
    return part.valid() && joins(circuit.part(part), Joining::legs);
}

bool matches_place(const Circuit& circuit, std::string_view typed, const FaultMode& mode) {
    const auto canonical = find_fault_place(circuit, typed);
    if (same_word(canonical.value_or(std::string(typed)), mode.place)) return true;
    if (joins_wires(circuit, typed) && is_cavity_of(mode.place, typed)) return true;
    const auto pieces = pieces_of_chain(circuit, typed);
    return std::any_of(pieces.begin(), pieces.end(),
                       [&](const std::string& piece) { return same_word(piece, mode.place); });
}

bool starts_with(const std::vector<std::string>& words, const std::vector<std::string>& start) {
    return start.size() <= words.size() && std::equal(start.begin(), start.end(), words.begin());
}

}  // namespace

bool matches_place_pattern(const Circuit& circuit, std::string_view pattern, const FaultMode& mode) {
    pattern = trimmed(pattern);
    if (pattern.empty()) return false;
    const auto blank = pattern.find_first_of(" \t");
    const std::string_view first = pattern.substr(0, blank);
    const std::string_view rest = blank == std::string_view::npos ? std::string_view{} : trimmed(pattern.substr(blank));
    if (!mode.head.empty()) return starts_with(mode_words(mode.phrase()), mode_words(pattern));
    return matches_place(circuit, first, mode) && starts_with(mode_words(mode.mode), mode_words(rest));
}

bool matches_any_place_pattern(const Circuit& circuit, std::string_view patterns, const FaultMode& mode) {
    while (!patterns.empty()) {
        const auto bar = patterns.find('|');
        if (matches_place_pattern(circuit, patterns.substr(0, bar), mode)) return true;
        patterns = bar == std::string_view::npos ? std::string_view{} : patterns.substr(bar + 1);
    }
    return false;
}

}  // namespace voltfall
