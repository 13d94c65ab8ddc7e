// The trade's way to name a thing: by its kind and number ("fuse 7"), by its pin ("plug C304 pin 1"), or by its kind
// alone where there is one of it ("relay").
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// The words with each thing called as the circuit calls it. A word that names nothing, or more than one thing, stays.
std::vector<Word> with_names_of(const Circuit& circuit, std::vector<Word> words);

/// The load that a line means which names none: the only one that runs or pulls, else the only one that the control
/// switches (an invalid control switches none). Invalid where there are several.
PartId load_unsaid(const Circuit& circuit, PartId control);

}  // namespace voltfall
