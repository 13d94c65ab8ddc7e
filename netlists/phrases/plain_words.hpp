// A typed line without the words that say nothing, and with each thing called as the circuit calls it.
#pragma once

#include <span>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// `low:` and `dead.` without their marks, `R1.1-R1.4` as two points, `ohms P1 open` without the word that its value
/// says again, what was done to the vehicle as a state; nothing that says nothing.
std::vector<Word> plain_words(const Circuit& circuit, std::span<const Word> typed);

/// The trade's other ways to say a word (`other_names`) in the words of a reading. A word that is a name of the circuit
/// stays.
void replace_other_names(const Circuit& circuit, std::vector<Word>& words);

}  // namespace voltfall
