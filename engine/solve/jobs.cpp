#include "engine/solve/jobs.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace voltfall {

std::atomic<bool>& interrupt_requested() {
    static std::atomic<bool> requested{false};
    static_assert(std::atomic<bool>::is_always_lock_free);
    return requested;
}

void run_jobs(std::size_t count, int workers, const std::function<void(std::size_t job)>& work,
              const ProgressReport& report, std::string_view stage) {
    std::atomic<std::size_t> next{0};
    const std::thread::id asker = std::this_thread::get_id();
    std::exception_ptr error;
    std::mutex error_lock;
    const auto run = [&] {
        for (std::size_t job = next.fetch_add(1); job < count; job = next.fetch_add(1)) {
            try {
                if (interrupt_requested()) throw Interrupted();
                work(job);
                if (report && std::this_thread::get_id() == asker) report(stage, job + 1, count);
            } catch (...) {
                const std::lock_guard lock(error_lock);
                if (!error) error = std::current_exception();
                next = count;
            }
        }
    };
    std::vector<std::jthread> threads;
    const auto wanted = std::min<std::size_t>(count, workers > 0 ? static_cast<std::size_t>(workers) : 1);
    for (std::size_t i = 1; i < wanted; ++i) threads.emplace_back(run);
    run();
    threads.clear();  // waits for them
    if (error) std::rethrow_exception(error);
}

}  // namespace voltfall
