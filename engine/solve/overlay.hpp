// Faults laid over a network, as far as the state shows them.
#pragma once

#include <span>

#include "engine/solve/state.hpp"
#include "netlists/circuit/fault_mode.hpp"
#include "netlists/circuit/network.hpp"

namespace voltfall {

/// Applies the faults that are present in the state: not those of a part that `new PART` replaced, not those whose
/// condition the state does not name, not a dead spot after `tap` or `turn`.
void apply_faults(Network& network, std::span<const Fault> faults, const State& state);

/// Is that fault present in the state?
bool present(const Circuit& circuit, const Fault& fault, const State& state);

}  // namespace voltfall
