// What a test is worth: bits between its outcome and what must be repaired.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace voltfall {

/// A weighted possibility: its weight, the group of repairs that it belongs to, and the number it predicts.
struct Possibility {
    double weight{};
    std::size_t group{};
    double mean{};
    double sigma{};
};

/// How a reading may mislead, and how finely outcomes are told apart.
struct OutcomeRules {
    double wrong{0};           ///< chance of any value at all
    double untouched{0};       ///< chance of zero because the probe did not touch
    double bins_per_sigma{2};  ///< of the narrowest possibility
    std::size_t most_bins{400};
};

/// Entropy of the groups, bits.
double entropy(std::span<const double> weights);

/// Mutual information between a number read and the group, bits.
double information_of_number(std::span<const Possibility> possibilities, std::size_t groups, const OutcomeRules& rules);

/// The same for a test with few outcomes: `outcomes` holds, possibility by possibility, P(outcome | possibility).
double information_of_words(std::span<const Possibility> possibilities, std::size_t groups,
                            std::span<const double> outcomes, std::size_t outcome_count);

}  // namespace voltfall
