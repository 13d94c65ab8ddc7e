#include "netlists/text/twin_letters.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

struct Twin {
    char32_t code;
    char latin;
};

/// Cyrillic, Greek and rare Latin letters by their shape (Unicode Technical Standard 39, confusables.txt; the small
/// Cyrillic letters that are capitals made small are added).
constexpr std::array twins{
    Twin{0x0131, 'i'}, Twin{0x017F, 's'}, Twin{0x019A, 'l'}, Twin{0x0391, 'A'}, Twin{0x0392, 'B'}, Twin{0x0395, 'E'},
    Twin{0x0396, 'Z'}, Twin{0x0397, 'H'}, Twin{0x0399, 'I'}, Twin{0x039A, 'K'}, Twin{0x039C, 'M'}, Twin{0x039D, 'N'},
    Twin{0x039F, 'O'}, Twin{0x03A1, 'P'}, Twin{0x03A4, 'T'}, Twin{0x03A5, 'Y'}, Twin{0x03A7, 'X'}, Twin{0x03B1, 'a'},
    Twin{0x03B9, 'i'}, Twin{0x03BA, 'k'}, Twin{0x03BD, 'v'}, Twin{0x03BF, 'o'}, Twin{0x03C1, 'p'}, Twin{0x03C5, 'u'},
    Twin{0x03C7, 'x'}, Twin{0x0405, 'S'}, Twin{0x0406, 'I'}, Twin{0x0408, 'J'}, Twin{0x0410, 'A'}, Twin{0x0412, 'B'},
    Twin{0x0415, 'E'}, Twin{0x041A, 'K'}, Twin{0x041C, 'M'}, Twin{0x041D, 'H'}, Twin{0x041E, 'O'}, Twin{0x0420, 'P'},
    Twin{0x0421, 'C'}, Twin{0x0422, 'T'}, Twin{0x0423, 'Y'}, Twin{0x0425, 'X'}, Twin{0x0430, 'a'}, Twin{0x0432, 'b'},
    Twin{0x0435, 'e'}, Twin{0x043A, 'k'}, Twin{0x043C, 'm'}, Twin{0x043D, 'h'}, Twin{0x043E, 'o'}, Twin{0x0440, 'p'},
    Twin{0x0441, 'c'}, Twin{0x0442, 't'}, Twin{0x0443, 'y'}, Twin{0x0445, 'x'}, Twin{0x0455, 's'}, Twin{0x0456, 'i'},
    Twin{0x0458, 'j'}, Twin{0x04BB, 'h'}, Twin{0x0501, 'd'}, Twin{0x051B, 'q'}, Twin{0x051D, 'w'}, Twin{0x2113, 'l'},
};

/// Latin letters with a mark, by the letter (Unicode, canonical decompositions of U+00C0 to U+017F).
constexpr std::array marked{
    Twin{0x00C0, 'A'}, Twin{0x00C1, 'A'}, Twin{0x00C2, 'A'}, Twin{0x00C3, 'A'}, Twin{0x00C4, 'A'}, Twin{0x00C5, 'A'},
    Twin{0x00C7, 'C'}, Twin{0x00C8, 'E'}, Twin{0x00C9, 'E'}, Twin{0x00CA, 'E'}, Twin{0x00CB, 'E'}, Twin{0x00CC, 'I'},
    Twin{0x00CD, 'I'}, Twin{0x00CE, 'I'}, Twin{0x00CF, 'I'}, Twin{0x00D1, 'N'}, Twin{0x00D2, 'O'}, Twin{0x00D3, 'O'},
    Twin{0x00D4, 'O'}, Twin{0x00D5, 'O'}, Twin{0x00D6, 'O'}, Twin{0x00D9, 'U'}, Twin{0x00DA, 'U'}, Twin{0x00DB, 'U'},
    Twin{0x00DC, 'U'}, Twin{0x00DD, 'Y'}, Twin{0x00E0, 'a'}, Twin{0x00E1, 'a'}, Twin{0x00E2, 'a'}, Twin{0x00E3, 'a'},
    Twin{0x00E4, 'a'}, Twin{0x00E5, 'a'}, Twin{0x00E7, 'c'}, Twin{0x00E8, 'e'}, Twin{0x00E9, 'e'}, Twin{0x00EA, 'e'},
    Twin{0x00EB, 'e'}, Twin{0x00EC, 'i'}, Twin{0x00ED, 'i'}, Twin{0x00EE, 'i'}, Twin{0x00EF, 'i'}, Twin{0x00F1, 'n'},
    Twin{0x00F2, 'o'}, Twin{0x00F3, 'o'}, Twin{0x00F4, 'o'}, Twin{0x00F5, 'o'}, Twin{0x00F6, 'o'}, Twin{0x00F9, 'u'},
    Twin{0x00FA, 'u'}, Twin{0x00FB, 'u'}, Twin{0x00FC, 'u'}, Twin{0x00FD, 'y'}, Twin{0x00FF, 'y'}, Twin{0x0100, 'A'},
    Twin{0x0101, 'a'}, Twin{0x0102, 'A'}, Twin{0x0103, 'a'}, Twin{0x0104, 'A'}, Twin{0x0105, 'a'}, Twin{0x0106, 'C'},
    Twin{0x0107, 'c'}, Twin{0x0108, 'C'}, Twin{0x0109, 'c'}, Twin{0x010A, 'C'}, Twin{0x010B, 'c'}, Twin{0x010C, 'C'},
    Twin{0x010D, 'c'}, Twin{0x010E, 'D'}, Twin{0x010F, 'd'}, Twin{0x0112, 'E'}, Twin{0x0113, 'e'}, Twin{0x0114, 'E'},
    Twin{0x0115, 'e'}, Twin{0x0116, 'E'}, Twin{0x0117, 'e'}, Twin{0x0118, 'E'}, Twin{0x0119, 'e'}, Twin{0x011A, 'E'},
    Twin{0x011B, 'e'}, Twin{0x011C, 'G'}, Twin{0x011D, 'g'}, Twin{0x011E, 'G'}, Twin{0x011F, 'g'}, Twin{0x0120, 'G'},
    Twin{0x0121, 'g'}, Twin{0x0122, 'G'}, Twin{0x0123, 'g'}, Twin{0x0124, 'H'}, Twin{0x0125, 'h'}, Twin{0x0128, 'I'},
    Twin{0x0129, 'i'}, Twin{0x012A, 'I'}, Twin{0x012B, 'i'}, Twin{0x012C, 'I'}, Twin{0x012D, 'i'}, Twin{0x012E, 'I'},
    Twin{0x012F, 'i'}, Twin{0x0130, 'I'}, Twin{0x0134, 'J'}, Twin{0x0135, 'j'}, Twin{0x0136, 'K'}, Twin{0x0137, 'k'},
    Twin{0x0139, 'L'}, Twin{0x013A, 'l'}, Twin{0x013B, 'L'}, Twin{0x013C, 'l'}, Twin{0x013D, 'L'}, Twin{0x013E, 'l'},
    Twin{0x0143, 'N'}, Twin{0x0144, 'n'}, Twin{0x0145, 'N'}, Twin{0x0146, 'n'}, Twin{0x0147, 'N'}, Twin{0x0148, 'n'},
    Twin{0x014C, 'O'}, Twin{0x014D, 'o'}, Twin{0x014E, 'O'}, Twin{0x014F, 'o'}, Twin{0x0150, 'O'}, Twin{0x0151, 'o'},
    Twin{0x0154, 'R'}, Twin{0x0155, 'r'}, Twin{0x0156, 'R'}, Twin{0x0157, 'r'}, Twin{0x0158, 'R'}, Twin{0x0159, 'r'},
    Twin{0x015A, 'S'}, Twin{0x015B, 's'}, Twin{0x015C, 'S'}, Twin{0x015D, 's'}, Twin{0x015E, 'S'}, Twin{0x015F, 's'},
    Twin{0x0160, 'S'}, Twin{0x0161, 's'}, Twin{0x0162, 'T'}, Twin{0x0163, 't'}, Twin{0x0164, 'T'}, Twin{0x0165, 't'},
    Twin{0x0168, 'U'}, Twin{0x0169, 'u'}, Twin{0x016A, 'U'}, Twin{0x016B, 'u'}, Twin{0x016C, 'U'}, Twin{0x016D, 'u'},
    Twin{0x016E, 'U'}, Twin{0x016F, 'u'}, Twin{0x0170, 'U'}, Twin{0x0171, 'u'}, Twin{0x0172, 'U'}, Twin{0x0173, 'u'},
    Twin{0x0174, 'W'}, Twin{0x0175, 'w'}, Twin{0x0176, 'Y'}, Twin{0x0177, 'y'}, Twin{0x0178, 'Y'}, Twin{0x0179, 'Z'},
    Twin{0x017A, 'z'}, Twin{0x017B, 'Z'}, Twin{0x017C, 'z'}, Twin{0x017D, 'Z'}, Twin{0x017E, 'z'},
};

constexpr bool is_mark(char32_t code) {
    return code >= 0x0300 && code <= 0x036F;
}

template <class Rows>
char latin_of(const Rows& rows, char32_t code) {
    const auto found = std::lower_bound(rows.begin(), rows.end(), code,
                                        [](const Twin& row, char32_t wanted) { return row.code < wanted; });
    return found == rows.end() || found->code != code ? 0 : found->latin;
}

}  // namespace

std::string as_it_looks(std::string_view text) {
    std::string latin;
    for (const Character& character : characters_of(text)) {
        const LookAlike* alike = character.valid ? look_alike(character.code) : nullptr;
        if (is_mark(character.code) || (alike && alike->plain == 0)) continue;
        char letter = alike ? alike->plain : latin_of(twins, character.code);
        if (letter == 0) letter = latin_of(marked, character.code);
        if (letter != 0)
            latin += letter;
        else
            latin += character.bytes;
    }
    return latin;
}

std::string twin_letter_in(std::string_view text) {
    for (const Character& character : characters_of(text)) {
        if (is_mark(character.code))
            return fmt::format("a mark ({}) stands apart from its letter", code_point_name(character.code));
        if (const char latin = latin_of(twins, character.code); latin != 0)
            return fmt::format("'{}' ({}) only looks like {}", character.bytes, code_point_name(character.code), latin);
    }
    return {};
}

}  // namespace voltfall
