// Two independent faults at once: what no single fault explains.
#pragma once

#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/weighed.hpp"

namespace voltfall {

/// Adds pairs of the suspects that explain something each, and what they leave to single faults. A second fault beside
/// a first is taken as `prior_second_fault` likely; both have their own prior.
void add_pairs(Weighed& weighed, const Circuit& circuit, const MatchOptions& options);

}  // namespace voltfall
