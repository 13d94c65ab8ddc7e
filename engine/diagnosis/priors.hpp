// How likely each fault is before anything is measured.
#pragma once

#include <span>
#include <string>
#include <vector>

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
Priors priors_of(const Circuit& circuit, const Job& job, std::span<const double> carried = {});

/// What a circuit is for; causes are not spread alike over blowers and the rest.
enum class CircuitPurpose { blower, other };

/// A circuit with a resistor pack, or with a control that is called a blower's.
CircuitPurpose purpose_of(const Circuit& circuit);

/// Share of a class among the causes in such circuits.
double class_share(FaultClass fault_class, CircuitPurpose purpose);

}  // namespace voltfall
