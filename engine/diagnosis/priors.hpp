// How likely each fault is before anything is measured.
#pragma once

#include <string>
#include <vector>

#include "netlists/files/job_file.hpp"

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

/// The care words that hold at a place: the circuit's, and those of a line of the job's history that names the place.
std::vector<std::string> care_words(const Circuit& circuit, const Job& job, const std::string& place);

/// The part that a fault sits in or at: by its name, or what stands before the dot ("C101.4" -> C101, "C303.1" -> R1 by
/// its plug). Invalid for a wire.
PartId part_of_place(const Circuit& circuit, const std::string& place);

}  // namespace voltfall
