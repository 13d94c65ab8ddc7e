// A circuit file often holds several circuits that share nothing but the battery, a bus and metal.
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// The wires of each such circuit, in the order of the file. Fuses that hang on a bus, and grounds, tie nothing
/// together: a ground's wires belong to what they come from. Every wire stands in one of them.
std::vector<std::vector<WireId>> separate_circuits(const Circuit& circuit);

}  // namespace voltfall
