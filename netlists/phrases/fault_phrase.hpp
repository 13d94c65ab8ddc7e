// `PLACE MODE [VALUE] [at WHERE] [when CONDITION]`: the one way to name a fault, and the trade's ways that mean one.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Reads a fault phrase against the circuit's catalogue. Modes that no row holds but that can be built on demand
/// (`541 bridge 555`, `swapped 541 555`) get a row of their own.
/// Returns nothing and reports a problem with a suggestion when it cannot: the phrase that the trade's words mean
/// (`542 broken` is `542 open`), where they mean one or a few.
std::optional<Fault> read_fault_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// The same of a phrase in this order alone, with what is wrong with it as it stands.
std::optional<Fault> read_fault_in_order(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// The faults that a line of the trade may mean, each as a phrase that reads: "542 open" for "open in wire 542". Empty
/// where no place of the circuit, or nothing that can be wrong there, is told.
std::vector<std::string> faults_meant(const std::string& line, const Circuit& circuit);

/// What a person typed at a screen, as it is read: the line itself where it reads, else its only meaning. Returns the
/// line itself where it has none or several: reading it then tells why.
std::string in_fault_order(const std::string& line, const Circuit& circuit);

/// The phrase of a fault with its size and place: "C101.4 resistance 0.3ohm", "542 chafe 20mohm at 60%".
std::string write_fault(const Circuit& circuit, const Fault& fault);

}  // namespace voltfall
