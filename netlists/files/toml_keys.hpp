// Small questions about a line of TOML.
#pragma once

#include <string>
#include <string_view>

#include "netlists/text/characters.hpp"

namespace voltfall {

/// A whole key in one pair of quotes without them; any other text as it is.
std::string unquoted(std::string text);
/// A key that TOML takes without quotes as one key: letters, digits, `_` and `-`.
bool is_bare_key(std::u32string_view key);
/// A key as TOML writes it: bare keys and keys in quotes, with points between them, and no more than ASCII outside
/// quotes.
bool is_written_key(std::u32string_view key);
/// Does the line look like `[section]` or `key = …`? (It does not inside a list of texts.)
bool starts_statement(std::u32string_view line);
/// The characters up to the first blank or quote, as UTF-8.
std::string first_word(std::u32string_view text);

/// What stands for a look-alike; one that cannot be seen becomes a blank, so that columns stay.
char32_t plain_of(const LookAlike& alike);
/// Is the character a look-alike of that quote?
bool stands_for(char32_t character, char32_t quote);

}  // namespace voltfall
