// Independent pieces of work on several cores.
#pragma once

#include <atomic>
#include <cstddef>
#include <exception>
#include <functional>
#include <string_view>

namespace voltfall {

/// Told now and then how far a stage of the work has come: "weighing", 120 of 300. Called on the thread that asked.
using ProgressReport = std::function<void(std::string_view stage, std::size_t done, std::size_t all)>;

/// Thrown out of long work after `interrupt_requested` was set.
struct Interrupted : std::exception {
    const char* what() const noexcept override { return "interrupted"; }
};

/// Set by a signal handler: work on jobs ends soon with `Interrupted`. Lock-free.
std::atomic<bool>& interrupt_requested();

/// Runs jobs 0 to count-1 on this thread and `workers` - 1 more. A job must not depend on which others ran before it,
/// and writes only what is its own, so that the answer is the same for any number of workers. The first exception of a
/// job is thrown here once all threads have stopped; jobs not begun by then are left out.
void run_jobs(std::size_t count, int workers, const std::function<void(std::size_t job)>& work,
              const ProgressReport& report = {}, std::string_view stage = {});

}  // namespace voltfall
