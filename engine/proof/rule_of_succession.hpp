// How many sound runs in a row make it unlikely that a fault that comes and goes is still there.
#pragma once

#include <cstddef>

namespace voltfall {

/// Chance that `sound` runs in a row show nothing although the fault is still there, when it showed in `failed` of
/// `runs` before: the mean of (1 - p)^sound over a beta distribution with failed + 1 and runs - failed + 1, which is
/// Laplace's rule of succession (uniform prior).
double chance_unseen(std::size_t failed, std::size_t runs, std::size_t sound);

/// The fewest sound runs for which that chance is at most `unseen_at_most`.
std::size_t sound_runs_needed(std::size_t failed, std::size_t runs);

inline constexpr double unseen_at_most = 0.05;

}  // namespace voltfall
