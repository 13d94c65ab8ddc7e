// What each place of the catalogue carries while the circuit is sound.
#pragma once

#include <vector>

#include "engine/solve/simulator.hpp"
#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Greatest current through the branch that a fault of a joint changes, amperes, over the positions of the controls; by
/// mode. 0 for every other fault, and where the sound circuit has no solution.
std::vector<double> carried_amps(Simulator& simulator, const Circuit& circuit);

}  // namespace voltfall
