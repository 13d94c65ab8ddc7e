#include "netlists/text/characters.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace voltfall {

namespace {

constexpr std::array look_alikes{
    LookAlike{0x00A0, "no-break space", ' '},
    LookAlike{0x00AD, "soft hyphen", 0},
    LookAlike{0x02BC, "modifier apostrophe", '\''},
    LookAlike{0x2007, "figure space", ' '},
    LookAlike{0x2009, "thin space", ' '},
    LookAlike{0x200B, "zero-width space", 0},
    LookAlike{0x2010, "hyphen", '-'},
    LookAlike{0x2011, "no-break hyphen", '-'},
    LookAlike{0x2012, "figure dash", '-'},
    LookAlike{0x2013, "en dash", '-'},
    LookAlike{0x2014, "em dash", '-'},
    LookAlike{0x2015, "bar", '-'},
    LookAlike{0x2018, "curly quote", '\''},
    LookAlike{0x2019, "curly quote", '\''},
    LookAlike{0x201A, "low quote", '\''},
    LookAlike{0x201B, "curly quote", '\''},
    LookAlike{0x201C, "curly quote", '"'},
    LookAlike{0x201D, "curly quote", '"'},
    LookAlike{0x201E, "low quote", '"'},
    LookAlike{0x201F, "curly quote", '"'},
    LookAlike{0x202F, "narrow no-break space", ' '},
    LookAlike{0x2060, "word joiner", 0},
    LookAlike{0x2212, "minus sign", '-'},
    LookAlike{0x3000, "wide space", ' '},
    LookAlike{0xFEFF, "byte order mark", 0},
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
    const auto found =
        std::find_if(look_alikes.begin(), look_alikes.end(), [code](const LookAlike& l) { return l.code == code; });
    return found == look_alikes.end() ? nullptr : &*found;
}

std::string code_point_name(char32_t code) {
    return fmt::format("U+{:04X}", static_cast<unsigned long>(code));
}

}  // namespace voltfall
