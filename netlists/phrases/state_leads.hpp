// Leads that a state adds to the circuit: a jumper, a feed from the battery, a load.
#pragma once

#include <optional>

#include "netlists/phrases/state_phrase.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

// Each takes its word and what follows. Returns nullopt, with the problem told to the reader's problems, where an end
// is missing, unknown or not one joint.
/// `jumper S1.C to B1-`
std::optional<AddedLead> take_jumper_lead(WordReader& words, const Circuit& circuit);
/// `feed M1.1`
std::optional<AddedLead> take_feed_lead(WordReader& words, const Circuit& circuit);
/// `load 55W M1.1 to B1-`
std::optional<AddedLead> take_load_lead(WordReader& words, const Circuit& circuit);

}  // namespace voltfall
