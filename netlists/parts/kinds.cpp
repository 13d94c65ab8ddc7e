#include "netlists/parts/kinds.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "netlists/text/suggest.hpp"

namespace voltfall {

std::span<const Kind> kinds() {
    static const std::vector<Kind> table{
        battery_kind, key_kind,    fuse_kind,  breaker_kind, link_kind, motor_kind,     pack_kind,   resistor_kind,
        switch_kind,  contact_kind, relay_kind, clutch_kind,  diode_kind, lamp_kind,    connector_kind, splice_kind,
        ground_kind,
    };
    return table;
}

const Kind* find_kind(std::string_view word) {
    const auto rows = kinds();
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const Kind& k) { return same_word(k.word, word); });
    return found == rows.end() ? nullptr : &*found;
}

std::vector<std::string> kind_words() {
    std::vector<std::string> words;
    for (const Kind& kind : kinds()) words.emplace_back(kind.word);
    return words;
}

bool is_electronic_kind(std::string_view word) {
    static constexpr std::array<std::string_view, 6> words{"zener", "source", "pot", "sensor", "module", "head"};
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return same_word(w, word); });
}

std::string canonical_terminal(const Part& part, std::string_view typed) {
    const std::vector<std::string> names = part.kind->terminals(part);
    if (names.empty()) return std::string(typed);
    for (const std::string& name : names) {
        if (name == typed) return name;
    }
    for (const std::string& name : names) {
        if (same_word(name, typed)) return name;
    }
    std::string_view rest = part.kind->terminal_aliases;
    while (!rest.empty()) {
        const auto blank = rest.find(' ');
        const std::string_view pair = rest.substr(0, blank);
        const auto equals = pair.find('=');
        if (same_word(pair.substr(0, equals), typed)) return std::string(pair.substr(equals + 1));
        rest = blank == std::string_view::npos ? std::string_view{} : rest.substr(blank + 1);
    }
    return {};
}

}  // namespace voltfall
