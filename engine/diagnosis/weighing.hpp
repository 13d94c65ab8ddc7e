// All suspects weighed against a job's readings.
#pragma once

#include <memory>

#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/priors.hpp"
#include "engine/diagnosis/weighed.hpp"

namespace voltfall {

/// Weighs every suspect; the leading ones are refined in size and place.
std::unique_ptr<Weighed> weigh(Simulator& simulator, const Circuit& circuit, const Job& job,
                               const MatchOptions& options);

/// `match` of a job that is weighed already, by the same options.
MatchAnswer match(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                  const Weighed& weighed);

}  // namespace voltfall
