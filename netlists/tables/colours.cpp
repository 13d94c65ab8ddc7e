// Colour words of wires.
#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "netlists/tables/wires.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using ColourCode = std::pair<std::string_view, std::string_view>;

// IEC 60757 (standard-codes.com; profsector.com, GOST 28763 = IEC 757).
constexpr std::array iec_colours{
    ColourCode{"BK", "black"},     ColourCode{"BN", "brown"},  ColourCode{"RD", "red"},  ColourCode{"OG", "orange"},
    ColourCode{"YE", "yellow"},    ColourCode{"GN", "green"},  ColourCode{"BU", "blue"}, ColourCode{"VT", "violet"},
    ColourCode{"GY", "grey"},      ColourCode{"WH", "white"},  ColourCode{"PK", "pink"}, ColourCode{"GD", "gold"},
    ColourCode{"TQ", "turquoise"}, ColourCode{"SR", "silver"},
};

// German letters that no other table uses otherwise (augustins-seiten.de, clubmg.de). Left out: GR, which is grey
// there and green for an older maker elsewhere; SB, black or sky blue; P, pink or purple.
constexpr std::array german_colours{
    ColourCode{"SW", "black"}, ColourCode{"BR", "brown"}, ColourCode{"RT", "red"},    ColourCode{"GE", "yellow"},
    ColourCode{"BL", "blue"},  ColourCode{"WS", "white"}, ColourCode{"LI", "violet"}, ColourCode{"VI", "violet"},
};

/// One code, or the colour's own name written out.
std::string_view colour_of(std::string_view letters) {
    for (const ColourCode& colour : iec_colours) {
        if (same_word(colour.first, letters) || same_word(colour.second, letters)) return colour.second;
    }
    for (const ColourCode& colour : german_colours) {
        if (same_word(colour.first, letters)) return colour.second;
    }
    return {};
}

/// The codes of one piece: itself, or pairs of letters joined by nothing (`RDBU`, `GNYE`). Empty when unknown.
std::vector<std::string_view> codes_of(std::string_view piece) {
    if (const std::string_view one = colour_of(piece); !one.empty()) return {one};
    std::vector<std::string_view> found;
    if (piece.empty() || piece.size() % 2 != 0) return {};
    for (std::size_t at = 0; at < piece.size(); at += 2) {
        const std::string_view colour = colour_of(piece.substr(at, 2));
        if (colour.empty()) return {};
        found.push_back(colour);
    }
    return found;
}

}  // namespace

std::optional<std::string> wire_colour_words(std::string_view letters) {
    std::vector<std::string_view> colours;
    while (true) {
        const std::size_t end = std::min(letters.find_first_of("/-"), letters.size());
        const auto codes = codes_of(letters.substr(0, end));
        if (codes.empty()) return std::nullopt;
        colours.insert(colours.end(), codes.begin(), codes.end());
        if (end == letters.size()) break;
        letters.remove_prefix(end + 1);
    }
    // Base, tracer, and on rare wires a second tracer; more is no colour of a wire.
    if (colours.size() > 3) return std::nullopt;
    std::string words(colours[0]);
    if (colours.size() > 1) words += " with " + std::string(colours[1]);
    if (colours.size() > 2) words += " and " + std::string(colours[2]);
    return words;
}

}  // namespace voltfall
