// Tests that ask nothing of switches and meters: a fuse looked at, the number on it, a gauge, a look at a place.
#pragma once

#include <optional>

#include "engine/planning/test_candidates.hpp"

namespace voltfall {

/// Adds those that the job has not taken yet; `last_step` counts on.
void add_tests_of_things(const Circuit& circuit, const Job& job, const Weighed& weighed, Future& future,
                         std::size_t& last_step);

/// A made-up reading of one word of a test, with its state where it has one; the word observation's index.
std::size_t add_future_word(Future& future, Measurement measurement, std::optional<std::size_t> state = std::nullopt);

}  // namespace voltfall
