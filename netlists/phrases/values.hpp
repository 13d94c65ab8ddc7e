// Typed values of readings: `12.6V`, `~12V`, `>10V`, `0.06-0.15V`, `open`.
#pragma once

#include <optional>
#include <string_view>

#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// The rise over the air that a hand calls cold, warm or hot, K: below 5, to 25, and above (ASSUMED). Any
/// other word is called hot.
ReadValue rise_felt(std::string_view word);

/// Does the word begin a value (a number with or without unit, `~`, `<`, `>`, `open`, `OL`)?
bool begins_value(const Word& word);

/// " behind 'clamp 542'" where the phrase ends before a word that it needs; empty where a word follows.
std::string behind_last_words(const WordReader& words);

/// Takes a value. Nothing and a problem when none stands there, it does not read, carries no unit, or is outside the
/// bounds of a reading; `example` is shown then ("12.6V"). A bare number gets the unit `only`, where just one is
/// possible there; empty: it must carry its own.
std::optional<ReadValue> take_value(WordReader& words, std::string_view example, std::string_view only = {});

/// The same, and the unit must be this one; a bare number of volts, amperes, degrees or per cent is taken in it. A
/// difference of temperatures in F counts 5/9 K a degree, with no offset.
enum class Scale { absolute, difference };
std::optional<ReadValue> take_value_in(WordReader& words, Unit unit, std::string_view example,
                                       Scale scale = Scale::absolute);

/// Takes a plain number of that unit, held against the row `figure` of a reading in the table of bounds; its SI value.
/// Where none stands, `what` ("the watts of the load are") is said to be missing; where one stands that does not read
/// or cannot be, it is taken and reported.
std::optional<double> take_figure(WordReader& words, Unit unit, std::string_view figure, std::string_view what,
                                  std::string_view example);

}  // namespace voltfall
