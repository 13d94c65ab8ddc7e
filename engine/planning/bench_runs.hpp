// A motor run by itself, off its plug, on a fused lead: does it turn, with nothing of the harness in the way?
#pragma once

#include <vector>

#include "engine/planning/extra_states.hpp"

namespace voltfall {

/// For motors with a plug and two pins that are suspected beside their feed, and that nobody has run so yet. The lead
/// is fed at the pin that current enters by. Electronics are never fed by hand.
std::vector<ExtraState> bench_runs(Simulator& simulator, const Circuit& circuit, const Job& job,
                                   const Weighed& weighed);

}  // namespace voltfall
