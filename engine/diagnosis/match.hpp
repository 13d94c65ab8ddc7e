// Which faults fit these readings.
#pragma once

#include "engine/diagnosis/answer.hpp"
#include "engine/solve/jobs.hpp"
#include "engine/solve/simulator.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

class CauseShares;
class Dictionary;

struct MatchOptions {
    int workers{2};                         ///< threads that solve; the answer is the same for any number
    std::size_t keep{20};                   ///< candidates reported
    bool two_faults{false};                 ///< weigh pairs of independent faults too
    bool two_where_one_fits_poorly{false};  ///< the same, but only where no single fault explains all readings
    ProgressReport progress;                ///< told how far long work has come
    Dictionary* dictionary{nullptr};        ///< of the same circuit: what was solved before and may be asked again
    const CauseShares* causes{nullptr};     ///< null: the usual ones
    bool calibrated{true};  ///< false: plain Bayes of priors and likelihoods, as an independent sum has it
};

/// Weighs every mode of the catalogue, with its size and place searched, against the job's readings.
MatchAnswer match(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options = {});

}  // namespace voltfall
