// At which sizes a fault is tried for what it harms.
#pragma once

#include <optional>
#include <vector>

#include "engine/solve/settled.hpp"
#include "netlists/circuit/fault_mode.hpp"

namespace voltfall {

/// The usual size, which speaks for the fault, then the middle and the ends of its range; one 0 for a mode without
/// size.
std::vector<double> sizes_tried(const FaultMode& mode);

/// The size at which the current through the first fuse to open is just below what opens it: the most that the fuse
/// bears without end. Nothing where no size of the range opens one, or every size does.
tl::expected<std::optional<double>, SolveFailure> size_borne(Simulator& simulator, const Circuit& circuit,
                                                             const ModePtr& mode, const State& state);

}  // namespace voltfall
