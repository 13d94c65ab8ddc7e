// How `tests/bench` measures and prints: CPU seconds, medians, with a goal and the ratio to it beside each figure.
#pragma once

#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace voltfall::bench {

inline double cpu_seconds(int who) {
    rusage used{};
    getrusage(who, &used);
    const auto seconds = [](const timeval& time) { return static_cast<double>(time.tv_sec) + 1e-6 * time.tv_usec; };
    return seconds(used.ru_utime) + seconds(used.ru_stime);
}

/// CPU seconds of this process while it works (all threads), or of the children that ended meanwhile.
inline double cpu_of(const std::function<void()>& work, int who = RUSAGE_SELF) {
    const double before = cpu_seconds(who);
    work();
    return cpu_seconds(who) - before;
}

inline double wall_of(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

inline double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

inline double median_of(int rounds, const std::function<double()>& measure) {
    std::vector<double> values;
    for (int i = 0; i < rounds; ++i) values.push_back(measure());
    return median(std::move(values));
}

inline void heading(const std::string& text) {
    fmt::print("\n{}\n", text);
}

enum class Better { less, more };

/// One row: what, the figure, the goal, and how the figure stands to it (above 1 is better than asked).
inline void row(const std::string& what, double figure, const std::string& unit, std::optional<double> goal = {},
                Better better = Better::less) {
    const std::string shown = fmt::format("{:.3g} {}", figure, unit);
    if (!goal) {
        fmt::print("  {:<58} {:>12}\n", what, shown);
    } else {
        const double ratio = better == Better::less ? *goal / figure : figure / *goal;
        fmt::print("  {:<58} {:>12}   goal {:>9}   {:>5.2f} x{}\n", what, shown, fmt::format("{:.4g} {}", *goal, unit),
                   ratio, ratio < 1 ? "  short" : "");
    }
    std::fflush(stdout);
}

struct Options {
    std::string voltfall;   ///< the program
    std::string score;      ///< the score's program
    std::string scenarios;  ///< folder
    bool short_run{false};
};

void bench_solving(const Options& options);
void bench_answers(const Options& options);
void bench_growth(const Options& options);

}  // namespace voltfall::bench
