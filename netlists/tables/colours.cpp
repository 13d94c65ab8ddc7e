#include "netlists/tables/colours.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

// IEC 60757 (standard-codes.com; profsector.com, GOST 28763 = IEC 757).
constexpr std::array iec_colours{
    ColourCode{"BK", "black"},     ColourCode{"BN", "brown"},  ColourCode{"RD", "red"},  ColourCode{"OG", "orange"},
    ColourCode{"YE", "yellow"},    ColourCode{"GN", "green"},  ColourCode{"BU", "blue"}, ColourCode{"VT", "violet"},
    ColourCode{"GY", "grey"},      ColourCode{"WH", "white"},  ColourCode{"PK", "pink"}, ColourCode{"GD", "gold"},
    ColourCode{"TQ", "turquoise"}, ColourCode{"SR", "silver"},
};

// DIN 72551 (augustins-seiten.de/guzzi-v7/elektrik2.shtml; bl and vi: clubmg.de).
constexpr std::array german_colours{
    ColourCode{"SW", "black"},  ColourCode{"BR", "brown"},      ColourCode{"RT", "red"},    ColourCode{"GE", "yellow"},
    ColourCode{"GN", "green"},  ColourCode{"BL", "blue"},       ColourCode{"GR", "grey"},   ColourCode{"WS", "white"},
    ColourCode{"LI", "violet"}, ColourCode{"HB", "light blue"}, ColourCode{"VI", "violet"},
};

// Two makers' tables that do not contradict each other (lemon-manuals.gy, Mazda MPV 1994; myvehicle.help, Suzuki Esteem
// 1995).
constexpr std::array japanese_colours{
    ColourCode{"B", "black"},        ColourCode{"BK", "black"},       ColourCode{"BR", "brown"},
    ColourCode{"R", "red"},          ColourCode{"O", "orange"},       ColourCode{"Y", "yellow"},
    ColourCode{"G", "green"},        ColourCode{"L", "blue"},         ColourCode{"BL", "blue"},
    ColourCode{"V", "violet"},       ColourCode{"PU", "purple"},      ColourCode{"GY", "grey"},
    ColourCode{"GR", "grey"},        ColourCode{"W", "white"},        ColourCode{"P", "pink"},
    ColourCode{"T", "tan"},          ColourCode{"N", "natural"},      ColourCode{"SB", "sky blue"},
    ColourCode{"LB", "light blue"},  ColourCode{"LBL", "light blue"}, ColourCode{"DL", "dark blue"},
    ColourCode{"LG", "light green"}, ColourCode{"DG", "dark green"},
};

// BS AU 7 (jcna.com/lucas-wiring-colors-0; O and K: frtips.com, standards of wiring).
constexpr std::array british_colours{
    ColourCode{"B", "black"},  ColourCode{"N", "brown"}, ColourCode{"R", "red"},  ColourCode{"O", "orange"},
    ColourCode{"Y", "yellow"}, ColourCode{"G", "green"}, ColourCode{"U", "blue"}, ColourCode{"P", "purple"},
    ColourCode{"S", "grey"},   ColourCode{"W", "white"}, ColourCode{"K", "pink"}, ColourCode{"LG", "light green"},
};

// A maker's table of 1982 (charm.li, Lincoln Mark VI), and the words of three letters (etopwh.com, colours of
// harnesses; BLK: MEMORY).
constexpr std::array american_colours{
    ColourCode{"BK", "black"},     ColourCode{"BLK", "black"},      ColourCode{"BR", "brown"},
    ColourCode{"BRN", "brown"},    ColourCode{"R", "red"},          ColourCode{"RED", "red"},
    ColourCode{"O", "orange"},     ColourCode{"ORG", "orange"},     ColourCode{"Y", "yellow"},
    ColourCode{"YEL", "yellow"},   ColourCode{"GR", "green"},       ColourCode{"GRN", "green"},
    ColourCode{"BL", "blue"},      ColourCode{"BLU", "blue"},       ColourCode{"VIO", "violet"},
    ColourCode{"P", "purple"},     ColourCode{"PPL", "purple"},     ColourCode{"GY", "grey"},
    ColourCode{"GRY", "grey"},     ColourCode{"W", "white"},        ColourCode{"WHT", "white"},
    ColourCode{"PK", "pink"},      ColourCode{"PNK", "pink"},       ColourCode{"T", "tan"},
    ColourCode{"TAN", "tan"},      ColourCode{"N", "natural"},      ColourCode{"LB", "light blue"},
    ColourCode{"DB", "dark blue"}, ColourCode{"LG", "light green"}, ColourCode{"DG", "dark green"},
};

// v1800.org, wire colours of the wiring diagrams.
constexpr std::array swedish_colours{
    ColourCode{"SB", "black"},  ColourCode{"BN", "brown"}, ColourCode{"BR", "brown"}, ColourCode{"R", "red"},
    ColourCode{"OR", "orange"}, ColourCode{"Y", "yellow"}, ColourCode{"GN", "green"}, ColourCode{"BL", "blue"},
    ColourCode{"V", "violet"},  ColourCode{"GR", "grey"},  ColourCode{"W", "white"},  ColourCode{"P", "pink"},
};

constexpr std::array tables{
    ColourTable{"IEC 60757", iec_colours},     ColourTable{"german", german_colours},
    ColourTable{"japanese", japanese_colours}, ColourTable{"british", british_colours, true},
    ColourTable{"american", american_colours}, ColourTable{"swedish", swedish_colours},
};
constexpr const ColourTable& iec = tables[0];

/// Colours that a shade may stand before.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> shades{
    {{"LT", "light"}, {"light", "light"}, {"pale", "light"}, {"DK", "dark"}, {"dark", "dark"}}};

std::string_view in_table(const ColourTable& table, std::string_view letters) {
    for (const ColourCode& code : table.codes)
        if (same_word(code.letters, letters)) return code.colour;
    return {};
}

/// A colour's own name written out.
std::string_view own_name(std::string_view word) {
    for (const ColourTable& table : tables)
        for (const ColourCode& code : table.codes)
            if (same_word(code.colour, word)) return code.colour;
    return same_word(word, "gray") ? "grey" : std::string_view{};
}

/// Reads one typed colour; what is found goes into the meaning.
class ColourReader {
public:
    explicit ColourReader(const ColourTable* table) : table_(table) {}

    ColourMeaning read(std::string_view typed) {
        while (true) {
            const std::size_t end = std::min(typed.find_first_of("/-"), typed.size());
            if (!read_piece(typed.substr(0, end))) return std::move(meaning_);
            if (end == typed.size()) break;
            typed.remove_prefix(end + 1);
        }
        // Base, tracer, and on rare wires a second tracer; more is no colour of a wire.
        if (colours_.size() > 3) return {};
        meaning_.words = colours_[0];
        if (colours_.size() > 1) meaning_.words += " with " + colours_[1];
        if (colours_.size() > 2) meaning_.words += " and " + colours_[2];
        return std::move(meaning_);
    }

private:
    /// False where the piece is no colour, or may be several.
    bool read_piece(std::string_view piece) {
        if (piece.empty()) return false;
        const std::size_t blank = piece.find(' ');
        if (blank != std::string_view::npos) return read_shade(piece.substr(0, blank), piece.substr(blank + 1));
        if (const std::string_view name = own_name(piece); !name.empty()) return keep(std::string(name));
        if (table_ && table_->joins_single_letters && read_joined_letters(piece)) return true;
        if (const auto one = colour_of(piece)) return keep(*one);
        return meaning_.choices.empty() && read_joined_pairs(piece);
    }

    bool read_shade(std::string_view shade, std::string_view letters) {
        for (const auto& [word, plain] : shades) {
            const auto colour = same_word(word, shade) ? colour_of(letters) : std::nullopt;
            if (colour) return keep(std::string(plain) + " " + *colour);
        }
        return false;
    }

    /// One code or name. Nothing where no table knows it, and where tables differ: then the choices are kept.
    std::optional<std::string> colour_of(std::string_view letters) {
        for (const ColourTable* first : {table_, &iec}) {
            const std::string_view colour = first ? in_table(*first, letters) : std::string_view{};
            if (!colour.empty()) return std::string(colour);
        }
        if (const std::string_view name = own_name(letters); !name.empty()) return std::string(name);
        return table_ ? std::nullopt : colour_of_any(letters);
    }

    std::optional<std::string> colour_of_any(std::string_view letters) {
        std::vector<ColourMeaning::Choice> found;
        for (const ColourTable& table : tables) {
            const std::string_view colour = in_table(table, letters);
            if (colour.empty()) continue;
            const auto same = std::find_if(found.begin(), found.end(),
                                           [&](const ColourMeaning::Choice& c) { return c.colour == colour; });
            if (same != found.end()) {
                same->tables += ", " + std::string(table.name);
            } else {
                found.push_back({std::string(colour), std::string(table.name), iec_letters(colour)});
            }
        }
        if (found.size() == 1) return found.front().colour;
        if (found.size() > 1) {
            meaning_.unclear = letters;
            meaning_.choices = std::move(found);
        }
        return std::nullopt;
    }

    static std::string iec_letters(std::string_view colour) {
        for (const ColourCode& code : iec.codes)
            if (code.colour == colour) return std::string(code.letters);
        return std::string(colour);
    }

    /// `NW`, `LGK`: the longest code that fits, again and again.
    bool read_joined_letters(std::string_view piece) {
        std::vector<std::string> found;
        while (!piece.empty()) {
            std::size_t taken = std::min<std::size_t>(2, piece.size());
            std::string_view colour = in_table(*table_, piece.substr(0, taken));
            if (colour.empty()) colour = in_table(*table_, piece.substr(0, taken = 1));
            if (colour.empty()) return false;
            found.emplace_back(colour);
            piece.remove_prefix(taken);
        }
        colours_.insert(colours_.end(), found.begin(), found.end());
        return true;
    }

    /// `RDBU`, `GNYE`: codes of two letters joined by nothing.
    bool read_joined_pairs(std::string_view piece) {
        if (piece.size() % 2 != 0) return false;
        std::vector<std::string> found;
        for (std::size_t at = 0; at < piece.size(); at += 2) {
            const auto colour = colour_of(piece.substr(at, 2));
            if (!colour) {
                meaning_ = {};  // a word that only begins as a code does is text
                return false;
            }
            found.push_back(*colour);
        }
        colours_.insert(colours_.end(), found.begin(), found.end());
        return true;
    }

    bool keep(std::string colour) {
        colours_.push_back(std::move(colour));
        return true;
    }

    const ColourTable* table_;
    ColourMeaning meaning_;
    std::vector<std::string> colours_;
};

/// The name without its blanks: `IEC60757` is the same table.
std::string without_blanks(std::string_view name) {
    std::string text(name);
    std::erase(text, ' ');
    return text;
}

}  // namespace

std::span<const ColourTable> colour_tables() {
    return tables;
}

const ColourTable* find_colour_table(std::string_view name) {
    const std::string wanted = without_blanks(name);
    if (same_word(wanted, "IEC")) return &iec;
    const auto found = std::find_if(tables.begin(), tables.end(),
                                    [&](const ColourTable& t) { return same_word(without_blanks(t.name), wanted); });
    return found == tables.end() ? nullptr : &*found;
}

std::vector<std::string> colour_table_names() {
    std::vector<std::string> names;
    for (const ColourTable& table : tables) names.emplace_back(table.name);
    return names;
}

ColourMeaning colour_meaning(std::string_view typed, const ColourTable* table) {
    return ColourReader(table).read(typed);
}

}  // namespace voltfall
