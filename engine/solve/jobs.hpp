// Independent pieces of work on several cores.
#pragma once

#include <cstddef>
#include <functional>

namespace voltfall {

/// Runs jobs 0 to count-1 on this thread and `workers` - 1 more. A job must not depend on which others ran before it, and
/// writes only what is its own, so that the answer is the same for any number of workers. The first exception of a job is
/// thrown here once all threads have stopped; jobs not begun by then are left out.
void run_jobs(std::size_t count, int workers, const std::function<void(std::size_t job)>& work);

}  // namespace voltfall
