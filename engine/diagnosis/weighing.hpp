// All suspects weighed against a job's readings.
#pragma once

#include <memory>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/priors.hpp"
#include "engine/diagnosis/suspect.hpp"
#include "engine/readings/prediction.hpp"

namespace voltfall {

struct Weighed {
    Questions questions;
    std::unique_ptr<Predictor> predictor;  ///< of these questions
    std::vector<Suspect> suspects;  ///< the healthy circuit first, then the catalogue's rows that matching searches
    double none{0};                 ///< probability of a cause that the catalogue does not hold
    std::vector<double> wrong;      ///< by reading: probability that it is wrong
    std::size_t failed{0};          ///< suspects that had no solution

    /// Indices of the suspects, most probable first (ties in the order of the catalogue).
    std::vector<std::size_t> ranked() const;
};

/// Weighs every suspect; the leading ones are refined in size and place.
std::unique_ptr<Weighed> weigh(Simulator& simulator, const Circuit& circuit, const Job& job,
                               const MatchOptions& options);

/// `match` of a job that is weighed already, by the same options.
MatchAnswer match(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                  const Weighed& weighed);

}  // namespace voltfall
