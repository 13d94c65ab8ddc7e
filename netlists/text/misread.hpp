// Numbers that do not read: why, and what was likely meant.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "netlists/text/problem.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// A word without the marks that lead it to a number: `@13.5V`, `~1.4m`, `<0.1V`.
std::string_view without_marks(std::string_view token);

/// Is the word meant as a number? True for a digit, or a sign or a point before one, behind the marks that may lead it:
/// `36ohn`, `@13.5X`, `-80ohm`, `.5V`. False for `M1`, `nan`, `-`.
bool looks_like_number(std::string_view token);

/// What is said of a number that does not read, or that reads without a unit where one is needed.
struct Misread {
    ProblemCode code;
    std::string message;     ///< "'36ohn' is no figure: 'ohn' is no unit"
    std::string suggestion;  ///< "did you mean 36ohm?", or empty
};

/// Explains a token that looks like a number and that `parse_measure` gives no measure, or one without a unit. A unit
/// that may stand there (`expected`) is suggested before any other.
Misread explain_misread(std::string_view token, std::span<const Unit> expected = {});

/// A number as typed where a comma cut it: `12,3` without a unit is two words, `12` and `3`.
struct TypedNumber {
    std::string text;  ///< "12,3"
    int length{};      ///< characters, from the first word's offset
    int words{1};      ///< how many words it takes
};

/// The number that begins at the first of the words, joined again where a comma between digits cut it.
TypedNumber number_as_typed(std::span<const Word> words);

}  // namespace voltfall
