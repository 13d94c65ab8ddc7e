// How likely each fault is before anything is measured.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/diagnosis/cause_shares.hpp"
#include "engine/readings/care.hpp"

namespace voltfall {

/// Probability of each mode of the catalogue, by mode; with `nothing` and `none` they sum to 1. Rows that matching does
/// not search have 0. Every thing fails at the rate of its class: the class's share (`prior_*`) over the things that
/// the circuits have of it in which it was counted, so that a circuit with twice the joints has twice the chance of a
/// bad one; divided over the thing's modes by their share, times the factors of what it carries, of [care] and of what
/// the job tells.
struct Priors {
    std::vector<double> modes;
    double nothing{};
    double none{};
};

/// `carried` as `carried_amps` gives it: a joint that carries much is likelier to burn. Empty: all alike.
Priors priors_of(const Circuit& circuit, const Job& job, std::span<const double> carried = {},
                 const CauseShares& causes = CauseShares::usual());

}  // namespace voltfall
