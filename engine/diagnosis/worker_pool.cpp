#include "engine/diagnosis/worker_pool.hpp"

#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstdlib>
#include <exception>
#include <new>

namespace voltfall {

namespace {

/// Neighbouring jobs differ in values only, so a worker takes a few at a time and alters instead of loading.
constexpr std::size_t jobs_at_a_time = 6;
/// Below this a fork costs more than it saves.
constexpr std::size_t least_jobs_to_fork = 24;

/// Memory that parent and children see alike: the next job, a flag a job, the numbers.
class SharedBoard {
public:
    SharedBoard(std::size_t count, std::size_t width) : count_(count), width_(width) {
        bytes_ = sizeof(std::atomic<std::size_t>) + count * width * sizeof(double) + count;
        memory_ = mmap(nullptr, bytes_, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
        if (memory_ == MAP_FAILED) throw std::bad_alloc();
        next_ = new (memory_) std::atomic<std::size_t>(0);
        numbers_ = reinterpret_cast<double*>(static_cast<char*>(memory_) + sizeof(std::atomic<std::size_t>));
        done_ = reinterpret_cast<unsigned char*>(numbers_ + count * width);
    }
    ~SharedBoard() { munmap(memory_, bytes_); }
    SharedBoard(const SharedBoard&) = delete;
    SharedBoard& operator=(const SharedBoard&) = delete;

    void run_one(std::size_t job, const NumberJob& work) {
        work(job, std::span<double>(numbers_ + job * width_, width_));
        std::atomic_ref<unsigned char>(done_[job]).store(1, std::memory_order_release);
    }
    void run_until_empty(const NumberJob& work) {
        for (;;) {
            const std::size_t first = next_->fetch_add(jobs_at_a_time);
            if (first >= count_) return;
            for (std::size_t job = first; job < std::min(first + jobs_at_a_time, count_); ++job) run_one(job, work);
        }
    }
    bool done(std::size_t job) const { return done_[job] != 0; }
    std::vector<double> numbers() const { return {numbers_, numbers_ + count_ * width_}; }

private:
    std::size_t count_;
    std::size_t width_;
    std::size_t bytes_{0};
    void* memory_{nullptr};
    std::atomic<std::size_t>* next_{nullptr};
    double* numbers_{nullptr};
    unsigned char* done_{nullptr};
};

/// A child that works and ends without touching the parent's streams; 0 or less where fork failed.
pid_t start_worker(SharedBoard& board, const NumberJob& job) {
    const pid_t child = fork();
    if (child != 0) return child;
    try {
        board.run_until_empty(job);
    } catch (...) {
        _exit(EXIT_FAILURE);  // the parent does these jobs again and meets the same error itself
    }
    _exit(EXIT_SUCCESS);
}

/// Waits for the children also when this process leaves early.
class Children {
public:
    void add(pid_t child) {
        if (child > 0) list_.push_back(child);
    }
    void wait() {
        for (const pid_t child : list_) {
            int status = 0;
            while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
            }
        }
        list_.clear();
    }
    ~Children() { wait(); }

private:
    std::vector<pid_t> list_;
};

}  // namespace

std::vector<double> run_jobs(std::size_t count, std::size_t width, int workers, const NumberJob& job) {
    if (count == 0 || width == 0) return {};
    SharedBoard board(count, width);
    Children children;
    if (count >= least_jobs_to_fork) {
        for (int i = 1; i < workers; ++i) children.add(start_worker(board, job));
    }
    board.run_until_empty(job);
    children.wait();
    for (std::size_t i = 0; i < count; ++i) {
        if (!board.done(i)) board.run_one(i, job);
    }
    return board.numbers();
}

}  // namespace voltfall
