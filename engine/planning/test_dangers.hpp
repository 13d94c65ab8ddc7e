// What a test could do while it is taken: a state that overheats something under a suspect that is still left, or feeds
// a place that has smoked.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/planning/test_value.hpp"

namespace voltfall {

/// The longest that a state may stay switched on.
struct SafeTime {
    double seconds{};
    std::string why;  ///< "with M1 seized R1 makes 221 W"
};

class TestDangers {
public:
    /// Follows the leading suspects in every state of the tests.
    TestDangers(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed,
                const Future& future, const Standings& standings);

    /// Must the test be left out: it has no time, or its state feeds a place that smoked or melted?
    bool forbids(const TestCandidate& test) const;
    /// Nothing where the test is harmless for three times as long as it takes.
    std::optional<SafeTime> safe_time(const TestCandidate& test) const;
    /// What was left out and why.
    const std::vector<std::string>& notes() const { return notes_; }

private:
    void find_burnt(Simulator& simulator, const Circuit& circuit, const Job& job, const Future& future);
    void follow(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed,
                const Future& future, const Standings& standings);

    struct Danger {
        double seconds{};  ///< until something is harmed
        bool joint{};      ///< whose size is a guess: a caution, no reason to leave the test out
        std::string why;
    };
    std::vector<std::optional<Danger>> by_state_;
    std::vector<bool> feeds_burnt_;
    std::vector<std::string> notes_;
};

/// "caution: switch on for 10 s at most: with M1 seized R1 makes 221 W".
std::string safe_time_caution(const SafeTime& safe);

}  // namespace voltfall
