// Letters of other scripts that look like Latin ones: Cyrillic and Greek keyboards, and letters with a mark apart.
#pragma once

#include <string>
#include <string_view>

namespace voltfall {

/// The text as it looks, in Latin letters: Cyrillic and Greek letters as the Latin ones whose shape they have, letters
/// with a mark as the letter alone. For comparing, never for showing.
std::string as_it_looks(std::string_view text);

/// What makes two texts that look the same differ: "'М' (U+041C) only looks like M". Empty where no letter of the first
/// looks like a plain one.
std::string twin_letter_in(std::string_view text);

}  // namespace voltfall
