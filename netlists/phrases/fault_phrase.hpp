// `PLACE MODE [VALUE] [at WHERE] [when CONDITION]`: the one way to name a fault.
#pragma once

#include <optional>
#include <string>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Reads a fault phrase against the circuit's catalogue. Modes that no row holds but that can be built on demand
/// (`541 bridge 555`, `swapped 541 555`) get a row of their own.
/// Returns nothing and reports a problem with a suggestion when it cannot.
std::optional<Fault> read_fault_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// The phrase of a fault with its size and place: "C101.4 resistance 0.3ohm", "542 chafe 20mohm at 60%".
std::string write_fault(const Circuit& circuit, const Fault& fault);

}  // namespace voltfall
