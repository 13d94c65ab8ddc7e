#include "netlists/text/characters.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace voltfall {

namespace {

constexpr std::array look_alikes{
    LookAlike{0x00A0, "no-break space", ' '},   LookAlike{0x00AB, "guillemet", '"'},
    LookAlike{0x00AD, "soft hyphen", 0},        LookAlike{0x00B4, "accent", '\''},
    LookAlike{0x00BB, "guillemet", '"'},        LookAlike{0x02BC, "modifier apostrophe", '\''},
    LookAlike{0x1680, "wide space", ' '},       LookAlike{0x180E, "vowel separator", 0},
    LookAlike{0x2000, "en space", ' '},         LookAlike{0x2001, "em space", ' '},
    LookAlike{0x2002, "en space", ' '},         LookAlike{0x2003, "em space", ' '},
    LookAlike{0x2004, "thin space", ' '},       LookAlike{0x2005, "thin space", ' '},
    LookAlike{0x2006, "thin space", ' '},       LookAlike{0x2007, "figure space", ' '},
    LookAlike{0x2008, "thin space", ' '},       LookAlike{0x2009, "thin space", ' '},
    LookAlike{0x200A, "hair space", ' '},       LookAlike{0x200B, "zero-width space", 0},
    LookAlike{0x200C, "zero-width mark", 0},    LookAlike{0x200D, "zero-width mark", 0},
    LookAlike{0x200E, "left-to-right mark", 0}, LookAlike{0x200F, "right-to-left mark", 0},
    LookAlike{0x2010, "hyphen", '-'},           LookAlike{0x2011, "no-break hyphen", '-'},
    LookAlike{0x2012, "figure dash", '-'},      LookAlike{0x2013, "en dash", '-'},
    LookAlike{0x2014, "em dash", '-'},          LookAlike{0x2015, "bar", '-'},
    LookAlike{0x2018, "curly quote", '\''},     LookAlike{0x2019, "curly quote", '\''},
    LookAlike{0x201A, "low quote", '\''},       LookAlike{0x201B, "curly quote", '\''},
    LookAlike{0x201C, "curly quote", '"'},      LookAlike{0x201D, "curly quote", '"'},
    LookAlike{0x201E, "low quote", '"'},        LookAlike{0x201F, "curly quote", '"'},
    LookAlike{0x2024, "one dot leader", '.'},   LookAlike{0x202F, "narrow no-break space", ' '},
    LookAlike{0x2032, "prime", '\''},           LookAlike{0x2033, "double prime", '"'},
    LookAlike{0x2039, "guillemet", '\''},       LookAlike{0x203A, "guillemet", '\''},
    LookAlike{0x205F, "thin space", ' '},       LookAlike{0x2060, "word joiner", 0},
    LookAlike{0x2061, "invisible sign", 0},     LookAlike{0x2062, "invisible sign", 0},
    LookAlike{0x2063, "invisible sign", 0},     LookAlike{0x2064, "invisible sign", 0},
    LookAlike{0x2212, "minus sign", '-'},       LookAlike{0x2215, "division slash", '/'},
    LookAlike{0x2236, "ratio sign", ':'},       LookAlike{0x3000, "wide space", ' '},
    LookAlike{0xFE0E, "variation mark", 0},     LookAlike{0xFE0F, "variation mark", 0},
    LookAlike{0xFE63, "small hyphen", '-'},     LookAlike{0xFEFF, "byte order mark", 0},
};

/// `！` to `～`, as keyboards for East Asian scripts type the ASCII signs, letters and digits.
constexpr auto wide_forms = [] {
    std::array<LookAlike, 0x5E> forms{};
    for (std::size_t i = 0; i < forms.size(); ++i)
        forms[i] = {static_cast<char32_t>(0xFF01 + i), "wide form", static_cast<char>('!' + i)};
    return forms;
}();

struct Range {
    char32_t first;
    char32_t last;
};

/// Letters and digits, by the blocks of Unicode that hold scripts; marks that only stand on a letter count as such.
constexpr std::array letters{
    Range{U'0', U'9'},       Range{U'A', U'Z'},     Range{U'a', U'z'},       Range{0x00AA, 0x00AA},
    Range{0x00B5, 0x00B5},   Range{0x00BA, 0x00BA}, Range{0x00C0, 0x00D6},   Range{0x00D8, 0x00F6},
    Range{0x00F8, 0x02AF},   Range{0x0300, 0x036F}, Range{0x0370, 0x037D},   Range{0x037F, 0x0383},
    Range{0x0386, 0x0386},   Range{0x0388, 0x058F}, Range{0x0591, 0x05F2},   Range{0x0610, 0x061A},
    Range{0x0620, 0x0669},   Range{0x066E, 0x06D3}, Range{0x06D5, 0x1FFF},   Range{0x2126, 0x2126},
    Range{0x212A, 0x212B},   Range{0x2C00, 0x2DFF}, Range{0x3005, 0x3007},   Range{0x3041, 0xD7FF},
    Range{0xF900, 0xFDFF},   Range{0xFE70, 0xFEFC}, Range{0x10000, 0x1CFFF}, Range{0x1E000, 0x1EFFF},
    Range{0x20000, 0x3FFFF},
};

constexpr std::array controls{
    Range{0x00, 0x1F},     Range{0x7F, 0x9F},     Range{0x2028, 0x2029},   Range{0x202A, 0x202E},
    Range{0x2066, 0x2069}, Range{0xFFF9, 0xFFFB}, Range{0xE0000, 0xE007F},
};

constexpr bool is_continuation(unsigned char byte) {
    return (byte & 0xC0U) == 0x80U;
}

/// Length of the sequence that a lead byte announces; 0 for a byte that cannot lead.
constexpr std::size_t announced_length(unsigned char lead) {
    if (lead < 0x80) return 1;
    if (lead >= 0xC2 && lead <= 0xDF) return 2;
    if (lead >= 0xE0 && lead <= 0xEF) return 3;
    if (lead >= 0xF0 && lead <= 0xF4) return 4;
    return 0;
}

/// The character at the start of a text that is not empty. Overlong forms and surrogates are not UTF-8 (RFC 3629).
Character first_character(std::string_view text) {
    const auto lead = static_cast<unsigned char>(text.front());
    const Character broken{lead, text.substr(0, 1), false};
    const std::size_t length = announced_length(lead);
    if (length == 0 || length > text.size()) return broken;
    if (length == 1) return {lead, text.substr(0, 1), true};
    char32_t code = lead & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        if (!is_continuation(byte)) return broken;
        code = (code << 6U) | (byte & 0x3FU);
    }
    constexpr std::array<char32_t, 5> smallest{0, 0, 0x80, 0x800, 0x10000};
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (code < smallest.at(length) || code > 0x10FFFF || surrogate) return broken;
    return {code, text.substr(0, length), true};
}

template <class View>
View without(View text, View blanks) {
    const auto first = text.find_first_not_of(blanks);
    if (first == View::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

}  // namespace

std::vector<Character> characters_of(std::string_view text) {
    std::vector<Character> characters;
    characters.reserve(text.size());
    while (!text.empty()) {
        characters.push_back(first_character(text));
        text.remove_prefix(characters.back().bytes.size());
    }
    return characters;
}

int character_count(std::string_view text) {
    int count = 0;
    while (!text.empty()) {
        text.remove_prefix(first_character(text).bytes.size());
        ++count;
    }
    return count;
}

std::string_view trimmed(std::string_view text) {
    return without(text, std::string_view(" \t\r"));
}

std::u32string_view trimmed(std::u32string_view text) {
    return without(text, std::u32string_view(U" \t\r"));
}

const LookAlike* look_alike(char32_t code) {
    if (code < look_alikes.front().code) return nullptr;
    if (code >= 0xFF01 && code <= 0xFF5E) return &wide_forms.at(code - 0xFF01);
    const auto found = std::lower_bound(look_alikes.begin(), look_alikes.end(), code,
                                        [](const LookAlike& one, char32_t wanted) { return one.code < wanted; });
    return found == look_alikes.end() || found->code != code ? nullptr : &*found;
}

bool is_letter(char32_t code) {
    const auto in = [code](const Range& range) { return code >= range.first && code <= range.last; };
    return std::any_of(letters.begin(), letters.end(), in);
}

bool is_name(std::string_view text) {
    const auto characters = characters_of(text);
    // An accent of its own stands on a letter; on a digit nobody meant it.
    bool after_letter = false;
    for (const Character& c : characters) {
        const bool sign = c.code == U'_' || c.code == U'-' || c.code == U'/';
        const bool accent = c.code >= 0x0300 && c.code <= 0x036F;
        if (!c.valid || !(is_letter(c.code) || sign) || (accent && !after_letter)) return false;
        after_letter = !sign && c.code > U'9';
    }
    return !characters.empty();
}

bool is_control(char32_t code) {
    const auto in = [code](const Range& range) { return code >= range.first && code <= range.last; };
    return std::any_of(controls.begin(), controls.end(), in);
}

std::string visible(std::string_view text) {
    std::string shown;
    while (!text.empty()) {
        const Character character = first_character(text);
        text.remove_prefix(character.bytes.size());
        const auto code = static_cast<unsigned>(character.code);
        if (character.valid && (character.code == '\n' || !is_control(character.code))) {
            shown += character.bytes;
        } else if (character.valid && code == '\t') {
            shown += ' ';
        } else {
            shown += !character.valid || code < 0x80 ? fmt::format("\\x{:02X}", code) : fmt::format("\\u{:04X}", code);
        }
    }
    return shown;
}

std::string code_point_name(char32_t code) {
    return fmt::format("U+{:04X}", static_cast<unsigned long>(code));
}

}  // namespace voltfall
