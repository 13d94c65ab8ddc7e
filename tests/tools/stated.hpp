// Stated probabilities against what was so.
#pragma once

#include <cstddef>
#include <span>
#include <utility>
#include <vector>

namespace voltfall {

/// A probability that was stated, 0 to 1, and whether it was so.
using Stated = std::pair<double, bool>;

/// One of ten bins: their mean probability, and in what share it was so. Bins that nothing fell into are left out.
struct StatedBin {
    double from{};
    double to{};
    std::size_t count{};
    double stated{};
    double was_so{};
};
std::vector<StatedBin> bins_of(std::span<const Stated> stated);

/// The mean distance over the bins, weighted by their count; 0 where nothing was stated.
double calibration_error(std::span<const Stated> stated);
/// Mean of -ln of what was given to what was so, a thousandth at least; 0 where nothing was stated.
double log_loss(std::span<const Stated> stated);
/// Mean square of the distance (Brier 1950); 0 where nothing was stated.
double brier_score(std::span<const Stated> stated);

}  // namespace voltfall
