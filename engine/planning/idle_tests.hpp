// Tests whose outcome is the same whatever is wrong, or the same as in another state. Values alone show it, before any
// spread is worked out.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "engine/planning/test_candidates.hpp"

namespace voltfall {

/// The least and the most that a suspect, over its sizes and places, predicts for each cell and each word.
class PredictedRanges {
public:
    struct Range {
        double low{std::numeric_limits<double>::infinity()};
        double high{-std::numeric_limits<double>::infinity()};
        void add(const Range& other);
    };

    explicit PredictedRanges(const Questions& questions)
        : cells(questions.cells.size()), words(questions.words.size()) {}

    /// Counts a prediction in; one without a solution is passed over.
    void add(const Prediction& prediction);

    std::vector<Range> cells;
    std::vector<Range> words;
};

/// Marks the tests that cannot tell anything and takes their questions out of the future. A number is idle where all
/// suspects lie far closer together than the instrument can show, a word where its chances are equal; and a number that
/// every suspect reads as in an earlier state of the same supply is left to that state.
void drop_idle_tests(Future& future, std::span<const PredictedRanges> by_suspect);

/// Has the first permitted repeat stand in for a test that its state's dangers forbid: all suspects read the same
/// there. `forbidden` has an entry for each of the future's tests.
void replace_forbidden_tests(Future& future, const std::vector<bool>& forbidden);

}  // namespace voltfall
