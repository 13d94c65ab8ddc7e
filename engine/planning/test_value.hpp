// What each test would tell: the suspects as they stand, what they predict for it, and the bits between.
#pragma once

#include <string>
#include <vector>

#include "engine/planning/information.hpp"
#include "engine/planning/test_candidates.hpp"

namespace voltfall {

/// What is repaired by one and the same work, or cannot be told apart.
struct RepairGroup {
    std::vector<std::size_t> suspects;  ///< most probable first
    double probability{0};
};

/// A suspect at one size and place, with what it predicts for all tests.
struct Standing {
    std::size_t suspect{};
    std::size_t group{};
    double weight{};
    Prediction prediction;
    bool hides{false};  ///< a fault that comes and goes is away while the test is taken
};

struct Standings {
    std::vector<RepairGroup> groups;  ///< most probable first
    std::vector<Standing> list;
};

/// Numbers that differ by less than this many sigma of the narrowest tell nothing.
inline constexpr double tells_nothing_sigmas = 0.3;

/// Solves the suspects that still count in all tests' states and groups them by repair. Tests that cannot tell anything
/// are marked idle, and their questions leave the future. `predictor` is of the future's questions.
Standings standings_of(Simulator& simulator, const Circuit& circuit, const Weighed& weighed, Future& future,
                       const Predictor& predictor, const MatchOptions& options);

/// One sigma of the instrument at a predicted value, shown with its usual digits.
double instrument_sigma_at(const Job& job, TestKind kind, double value);

/// One sigma of what will be read, from the variance of a prediction and the instrument's sigma. A variance below zero
/// is what earlier readings tell of the instrument's scale.
double read_sigma(double variance, double instrument);

/// P(outcome | standing) of a test with words, standing by standing.
std::vector<double> word_outcomes(const Circuit& circuit, const Job& job, const Weighed& weighed,
                                  const TestCandidate& test, const std::vector<Standing>& standings);

/// Is the supply's share of the spread counted?
enum class SupplyKnown { no, yes };

/// Bits that the test tells of what must be repaired.
double bits_of(const Circuit& circuit, const Job& job, const Weighed& weighed, const TestCandidate& test,
               const Standings& standings, SupplyKnown supply);

}  // namespace voltfall
