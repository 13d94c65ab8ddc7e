// Where the characters of a text in quotes were typed.
#pragma once

#include <cstddef>
#include <string>

#include "netlists/files/source_lines.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// The text `decoded`, whose opening quote stands at `line` and `at` (counted from 0, in the repaired text), with the
/// place of its first character. Line ends in it are read as blanks. A text over several lines, or with escapes in it,
/// knows where each of its characters was typed.
TypedText located_text(const SourceText& source, std::size_t line, std::size_t at, std::string decoded);

}  // namespace voltfall
