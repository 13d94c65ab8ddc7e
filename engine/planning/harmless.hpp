// Faults that nobody need find: all works as it should with them.
#pragma once

#include <span>

#include "engine/solve/simulator.hpp"
#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Do all loads go as in the sound circuit, in every default state, with no fuse open? False where a state cannot be
/// solved.
bool is_harmless(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults);

}  // namespace voltfall
