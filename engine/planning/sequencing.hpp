// Which test to take first, and which then: the sequence with the least expected minutes.
//
// A case is a fault at one size; cases of one group need one repair. Outcomes of two tests are taken as independent
// once the case is known. Ending is an action too: the likeliest group is repaired, and where that was wrong its price
// is paid. While tests are few every sequence is weighed (dynamic programming over what has been seen); beyond that
// each step looks at the tests that tell most for their minutes, and the rest of the way is walked greedily.
#pragma once

#include <cstddef>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

namespace voltfall {

/// One test that may be taken once.
struct SequencingTest {
    double minutes{};                   ///< each time
    std::vector<std::size_t> openings;  ///< strip-down that it needs, paid once for all tests
    std::size_t outcomes{};
    std::vector<double> likelihood;  ///< P(outcome | case), case by case; each case's sum to 1
};

struct SequencingProblem {
    std::vector<double> weights;      ///< of the cases, above 0; need not sum to 1
    std::vector<std::size_t> groups;  ///< by case, counted from 0
    std::vector<SequencingTest> tests;
    std::vector<double> opening_minutes;
    double wrong_minutes{std::numeric_limits<double>::infinity()};  ///< price of repairing the wrong group
    double sure{1};                                                 ///< a group this probable ends testing
    double rarest{0};                    ///< a way that is rarer than this ends where it stands
    double least_bits{1e-9};             ///< a test that tells less of the group is not taken
    std::size_t exact_up_to{16};         ///< more tests than this are looked at in part only
    std::size_t steps_ahead{4};          ///< steps at which several tests are looked at where not all are; 4 at most
    std::optional<std::size_t> first{};  ///< the test that is taken first, whatever it tells; nothing: it is chosen
};

/// A step of the plan, or its end.
struct SequencingNode {
    std::optional<std::size_t> test;  ///< nothing: here testing ends
    double minutes{};                 ///< of this test, strip-down that is still to do included
    double expected{};                ///< minutes from here on, wrong repairs not counted
    double worst{};
    std::size_t group{};   ///< likeliest here
    double probability{};  ///< of that group
    struct Branch {
        std::size_t outcome{};
        double probability{};
        std::unique_ptr<SequencingNode> then;
    };
    std::vector<Branch> branches;  ///< by outcome; those that cannot happen are left out
};

struct SequencingPlan {
    std::unique_ptr<SequencingNode> root;
    bool exact{false};
    double cost{};  ///< expected minutes with the price of wrong repairs
};

/// Plans from the start. Without a price of being wrong, testing goes on until one group is left (or no test tells
/// more).
SequencingPlan plan_sequence(const SequencingProblem& problem);

/// The same, taking the test with most bits (`per_minute`: most bits a minute) at every step.
enum class Greed { bits, per_minute };
SequencingPlan plan_greedily(const SequencingProblem& problem, Greed greed);

/// The same by the rule of `next`: of the tests that are worth their minutes the one whose bits, at so many minutes a
/// bit, save most beside its own minutes; the end where none is worth them. `cost` is what that way costs.
SequencingPlan plan_by_rule(const SequencingProblem& problem, double minutes_a_bit);

/// Bits that a test tells of the group before anything is seen.
double first_bits(const SequencingProblem& problem, std::size_t test);

}  // namespace voltfall
