#include "netlists/parts/kind.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "netlists/text/suggest.hpp"

namespace voltfall {

std::vector<std::string> two_terminals(const Part&) {
    return {"1", "2"};
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

const FigureBounds* find_figure(const Kind& kind, std::string_view figure, Unit unit) {
    const auto found = std::find_if(kind.figures.begin(), kind.figures.end(),
                                    [&](const FigureBounds& row) { return row.figure == figure && row.unit == unit; });
    return found == kind.figures.end() ? nullptr : &*found;
}

const FigureBounds& figure_bounds(const Kind& kind, std::string_view figure, Unit unit) {
    if (const FigureBounds* row = find_figure(kind, figure, unit)) return *row;
    throw std::logic_error("no bounds are stated for the " + std::string(figure) + " of a " + std::string(kind.word));
}

bool has_figure_in(const Kind& kind, Unit unit) {
    return std::any_of(kind.figures.begin(), kind.figures.end(),
                       [&](const FigureBounds& row) { return row.unit == unit; });
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
