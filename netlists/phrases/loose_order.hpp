// A reading typed in another order than state, measurement, value, or by the trade's names of things: "fan dead on
// low", "10,3V at plug C304 pin 1", "fuse 7 popped".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/spoken_lines.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// The ways in which such a line may be meant, beside the one in which it stands, each in the order that a reading has;
/// the likeliest stands first. Nothing of it need be a reading: the caller reads each. Empty where the line has no
/// other order.
std::vector<TypedText> other_orders(const TypedText& line, const Circuit& circuit);

/// The same of a line that asks for a test, in which no number stands.
std::vector<TypedText> test_orders(const TypedText& line, const Circuit& circuit);

/// What a line means that is said as a whole ("power at both sides of F7"), each reading with its state and its number;
/// nullopt where it is no such line.
std::optional<SpokenLine> spoken_in(const TypedText& line, const Circuit& circuit);

/// Both at once, for one that needs both: the line is taken apart once.
struct LooseLine {
    std::optional<SpokenLine> spoken;
    std::vector<TypedText> orders;  ///< what `other_orders` gives
    std::string only_state;         ///< the line says what was set and nothing that was seen: as a state has it
};
LooseLine read_loose(const TypedText& line, const Circuit& circuit);

}  // namespace voltfall
