// Characters of UTF-8 text: what columns count, and the look-alikes that phone keyboards type.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// One character of a text. A byte that is not UTF-8 is a character of its own, with `valid` false.
struct Character {
    char32_t code{};
    std::string_view bytes;
    bool valid{true};
};

/// The characters in order; views into `text`.
std::vector<Character> characters_of(std::string_view text);

/// How many characters a text has: the unit of columns and offsets.
int character_count(std::string_view text);

/// Without the blanks, tabs and carriage returns at both ends.
std::string_view trimmed(std::string_view text);
std::u32string_view trimmed(std::u32string_view text);

/// May the character stand in a name? Letters and digits of any script; no signs, arrows, emoji, marks or blanks.
bool is_letter(char32_t code);

/// Letters and digits of any script, `_`, `-` and `/`: what diagrams print as a name. False for an empty text.
bool is_name(std::string_view text);

/// A character that a terminal obeys instead of showing it: U+0000 to U+001F, U+007F to U+009F, the separators of lines
/// and paragraphs, and the marks that turn the direction of writing. A tab is one too.
bool is_control(char32_t code);

/// The text as it may be shown: what a terminal would obey, and bytes that are not UTF-8, by their numbers
/// (`\x1B`, `\u009B`). Line ends stay.
std::string visible(std::string_view text);

/// A character that looks like a plain one and is not: curly quotes, dashes, no-break spaces.
struct LookAlike {
    char32_t code;
    std::string_view name;
    char plain;  ///< what it is read as; 0 when it is invisible and left out
};

/// The look-alike with that code, or null.
const LookAlike* look_alike(char32_t code);

/// "U+2013".
std::string code_point_name(char32_t code);

}  // namespace voltfall
