// What is known of each suspect once a job's readings are weighed, and the order in which suspects are told.
#pragma once

#include <memory>
#include <vector>

#include "engine/diagnosis/suspect.hpp"
#include "engine/readings/prediction.hpp"

namespace voltfall {

struct Weighed {
    Questions questions;
    std::unique_ptr<Predictor> predictor;  ///< of these questions
    std::vector<Suspect> suspects;  ///< the healthy circuit first, then the catalogue's rows that matching searches
    double none{0};                 ///< probability of a cause that the catalogue does not hold
    /// Two faults at once, where they were asked for or no single one explains the readings; most probable first. Their
    /// probabilities count beside those of the single faults as `chance` tells them.
    std::vector<Suspect> pairs;
    bool pairs_weighed{false};
    double share_of_singles{1};  ///< what the pairs leave to all that stands in `suspects` and to `none`
    std::vector<double> wrong;   ///< by reading: probability that it is wrong
    std::size_t failed{0};       ///< suspects that had no solution

    /// Indices of the suspects, most probable first (ties in the order of the catalogue).
    std::vector<std::size_t> ranked() const;

    /// Single faults and, behind them, pairs.
    std::size_t all() const { return suspects.size() + pairs.size(); }
    const Suspect& suspect(std::size_t index) const {
        return index < suspects.size() ? suspects[index] : pairs[index - suspects.size()];
    }
    /// Probability of a single fault or pair among all of them, 0 to 1.
    double chance(std::size_t index) const {
        return suspect(index).probability * (index < suspects.size() ? share_of_singles : 1);
    }
    /// Probability that a fault of this sort is there, by itself or beside another one, 0 to 1.
    template <class Wanted>
    double chance_of(const Wanted& wanted) const {
        double sum = 0;
        for (std::size_t i = 0; i < all(); ++i) {
            const Suspect& one = suspect(i);
            if ((one.mode && wanted(*one.mode)) || (one.second && wanted(*one.second->mode))) sum += chance(i);
        }
        return sum;
    }
    /// All of them, most probable first, with equals as in `ranked`.
    std::vector<std::size_t> ranked_with_pairs() const;
};

}  // namespace voltfall
