// What could be measured next and what every suspect says to it: the ground that `next` and `plan` stand on.
#pragma once

#include <memory>

#include "engine/diagnosis/weighing.hpp"
#include "engine/planning/test_dangers.hpp"
#include "engine/planning/test_value.hpp"

namespace voltfall {

/// A job weighed, every permitted test, and the suspects that still count solved in all tests' states. Not movable:
/// the predictor looks at the questions inside.
struct Outlook {
    Outlook(Simulator& simulator_, const Circuit& circuit_, const Job& job_, const MatchOptions& options_)
        : Outlook(simulator_, circuit_, job_, options_, weigh(simulator_, circuit_, job_, options_)) {}
    /// `weighed_` is of this job, by these options.
    Outlook(Simulator& simulator_, const Circuit& circuit_, const Job& job_, const MatchOptions& options_,
            std::shared_ptr<const Weighed> weighed_);
    Outlook(const Outlook&) = delete;
    Outlook& operator=(const Outlook&) = delete;

    Simulator& simulator;
    const Circuit& circuit;
    const Job& job;
    const MatchOptions& options;
    std::shared_ptr<const Weighed> weighed;
    Future future;
    Predictor predictor;
    Standings standings;
    TestDangers dangers;
    std::vector<std::string> reached;  ///< places that the job has opened already

    const Suspect& suspect(std::size_t index) const { return weighed->suspect(index); }
    /// Is the supply of the test's state not told yet?
    bool is_supply_unknown(const TestCandidate& test) const;
    double bits(const TestCandidate& test, SupplyKnown supply = SupplyKnown::no) const;
    /// The current of a wire in series with one that the job has read in the same state.
    bool repeats_known_amps(const TestCandidate& test) const;
    /// What is to be read before the test.
    std::vector<std::string> cautions(const TestCandidate& test) const;
    /// Has the simulator of record confirm what the sound circuit and these suspects would read in these tests.
    void confirm(std::span<const std::size_t> tests, std::span<const std::size_t> suspects) const;
    /// What is repaired: nothing, one thing or, where two faults are there at once, two. Of each the places that one
    /// visit mends and no test parts; the place to try first, by its chance a minute, stands first. Of two repairs the
    /// one that more of what is left needs comes first.
    std::vector<std::vector<std::string>> repairs_of(const RepairGroup& group) const;
    /// The same in words: "C101", "C303 or R1", "K3 and G201".
    std::string repair_of(const RepairGroup& group) const;
    /// Chance that something is wrong at one of the places, by itself or beside another fault, 0 to 1.
    double chance_at(const std::vector<std::string>& places) const;
};

/// Above this the next step is the repair, and to prove it, whatever tests are left.
inline constexpr double sure_enough = 0.99;
/// Above this, where testing ends, the repair is told as the one; below it as the first to try.
inline constexpr double nearly_sure = 0.9;
/// A test that tells less than this many bits is not proposed.
inline constexpr double least_bits = 0.01;

}  // namespace voltfall
