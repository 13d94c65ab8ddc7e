// A suspect as the trials that a predictor solves: one fault at several sizes, or two at several pairs of sizes.
#pragma once

#include <cstddef>
#include <vector>

#include "engine/diagnosis/suspect.hpp"
#include "engine/readings/solved_case.hpp"

namespace voltfall {

/// The trials look at the second faults that stand beside them, so that a copy would look at those of its original.
struct SuspectTrials {
    /// At most `count` sizes that stand for the suspect.
    SuspectTrials(const Circuit& circuit, const Suspect& suspect, std::size_t count);
    SuspectTrials(const SuspectTrials&) = delete;
    SuspectTrials& operator=(const SuspectTrials&) = delete;

    std::vector<Trial> list;
    std::vector<double> shares;  ///< of the suspect's weight, trial by trial; they sum to 1

private:
    std::vector<Fault> seconds_;
};

/// What is laid over the circuit at the suspect's best fit: nothing, one fault or two; not what they lead to.
std::vector<Fault> faults_at_best(const Circuit& circuit, const Suspect& suspect);

}  // namespace voltfall
