// Pieces of a state that contradict others or say nothing.
#pragma once

#include <string_view>

#include "netlists/phrases/state_phrase.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Sets the key. Another position of it that is said already is a contradiction, reported at `word`.
void set_key(StatePhrase& state, KeyPosition key, WordReader& words, const Word* word);

/// Takes `hot`, `cold`, `wet` or `bump`; hot and cold at once are a contradiction.
void take_condition(StatePhrase& state, WordReader& words);
/// Takes a condition in quotes; one with nothing between them is reported.
void take_own_condition(StatePhrase& state, WordReader& words);

/// `pull, hi  M1.1 10V`: what should be named behind `after` is left out where a word follows that is no name: behind a
/// comma, a value, another word of a phrase or a position. True, and a problem, then.
bool is_left_out(WordReader& words, const Circuit& circuit, const Word& word, std::string_view after,
                 std::string_view example);

}  // namespace voltfall
