// How likely each fault is before anything is measured.
#pragma once

#include <string>
#include <vector>

#include "engine/readings/care.hpp"

namespace voltfall {

/// Probability of each mode of the catalogue, by mode; with `nothing` and `none` they sum to 1. Rows that matching does
/// not search have 0. Class shares (`prior_*`) over the classes present, divided over a class's things alike and over a
/// thing's modes by their share, times the factors of [care] and of what the job tells.
struct Priors {
    std::vector<double> modes;
    double nothing{};
    double none{};
};

Priors priors_of(const Circuit& circuit, const Job& job);

/// Share of a class among the causes.
double class_share(FaultClass fault_class);

}  // namespace voltfall
