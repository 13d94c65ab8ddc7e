// The pressure or temperature that moves a contact, both ways: what a gauge shows of a vehicle, and what it says of a
// suspect.
#pragma once

#include <span>

#include "engine/readings/word_evidence.hpp"
#include "netlists/circuit/moving_quantity.hpp"

namespace voltfall {

/// Chance that a sound contact stands away from its healthy position at what was read, 0 to 1: gauges and the contacts'
/// own figures have their spread, and between its two figures a contact stands as it last did.
double away_probability(const MovingQuantity& quantity, const ReadValue& read);

/// P(value | case): the suspect whose system is not as it should be, against all others.
double quantity_probability(const QuantityReading& reading, const WordContext& context);

/// P(value), whatever is wrong in the circuit: what keeps sound contacts where they should be, or seldom another value.
double quantity_anyway(const Circuit& circuit, const QuantityReading& reading);

/// What stands at the gauge while these faults are there, Pa or °C: a fault's own, else what is healthy. The contact is
/// the first that is moved by what the test names and has a fault of its system, else the first.
double quantity_found(const Circuit& circuit, const QuantityTest& test, std::span<const Fault> faults);

}  // namespace voltfall
