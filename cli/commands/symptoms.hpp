// What every fault of the catalogue would show to the driver and at the fuses.
#pragma once

#include <functional>
#include <span>

#include "cli/views/faults_view.hpp"
#include "engine/solve/jobs.hpp"
#include "engine/solve/settled.hpp"
#include "engine/solve/state.hpp"

namespace voltfall {

/// The symptom of the healthy circuit, or why a state has none.
tl::expected<SymptomPattern, SolveFailure> healthy_symptom(Simulator& simulator, const Circuit& circuit,
                                                           std::span<const State> states);

/// Solves the whole catalogue, five sizes where a mode has sizes, in every state, to the end of its course. A case that
/// has no solution is a symptom of its own ("no solution").
std::vector<SymptomGroup> group_by_symptom(Simulator& simulator, const Circuit& circuit, std::span<const State> states,
                                           const SymptomPattern& healthy, int workers, const ProgressReport& report);

/// The sizes tried: five from the least to the largest, evenly spread by ratio or by difference, two figures each.
std::vector<double> sizes_tried(const SizeRange& range);

}  // namespace voltfall
