// Safety lines that stand before a step: only those that apply.
#pragma once

#include <string>
#include <vector>

#include "engine/planning/test_candidates.hpp"

namespace voltfall {

/// Cautions of a test in its state, in the order in which they matter (usual in the trade, reference trade 5.2). What
/// can injure a person begins with "warning: ", the rest can harm the vehicle.
std::vector<std::string> cautions_of(const Circuit& circuit, const Job& job, const TestCandidate& test,
                                     const State& state);

/// Stands once with every list of steps.
inline constexpr const char* makers_procedure =
    "the maker's procedure, figures and order come first; this is a planning aid";

}  // namespace voltfall
