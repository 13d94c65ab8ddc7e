// Names that a thing lends to what belongs to it: "blower plug" is the plug of the blower's motor, "K9 85" a pin of K9,
// "on 87" a pin of the only relay.
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Calls each plug that is named by its part as the circuit calls it.
void name_plugs(const Circuit& circuit, std::vector<Word>& words);

/// Calls a pin that stands at `at` behind its part, or is one of the only relay, as the circuit calls it: one word in
/// the place of several. Leaves the words where they name nothing of the kind.
void name_pins(const Circuit& circuit, std::vector<Word>& words, std::size_t at);

}  // namespace voltfall
