// Two independent faults at once, on request: what no single fault explains.
#pragma once

#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// Adds pairs of the suspects that explain something each, and takes their weight from the probabilities that the
/// answer holds already. A second fault beside a first is taken as `second_fault` likely; both have their own prior.
void add_pairs(MatchAnswer& answer, const Circuit& circuit, const Weighed& weighed, const MatchOptions& options);

}  // namespace voltfall
