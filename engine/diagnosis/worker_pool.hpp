// Forked workers for many small independent cases.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

namespace voltfall {

/// Writes the numbers of one job. Must not depend on which jobs ran before it.
using NumberJob = std::function<void(std::size_t job, std::span<double> out)>;

/// Runs jobs 0 … count-1, each giving `width` numbers, in this process and `workers` - 1 forked ones; the answer is the
/// same for any number of workers. The jobs of a worker that died are done again in this process.
std::vector<double> run_jobs(std::size_t count, std::size_t width, int workers, const NumberJob& job);

}  // namespace voltfall
