// The lines of [limits] that a solved circuit can be held to: amperes, feed and ground drops.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "cli/views/whatif_view.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// Every limit that this state tells of, healthy and faulted (just after the state is set). Limits on amperes are
/// compared at the supply that they name.
tl::expected<std::vector<LimitFigure>, SolveFailure> check_limits(Simulator& simulator, const Circuit& circuit,
                                                                  const State& state, std::span<const Fault> faults,
                                                                  const Settled& healthy, const Settled& faulted);

/// Limits of other things (a temperature), each with the reason why no figure stands beside it.
std::vector<std::string> limits_not_checked(const Circuit& circuit);

}  // namespace voltfall
