// The whole way from here: which test first, and which then for each outcome, until a repair is the better step.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"
#include "engine/planning/sequencing.hpp"

namespace voltfall {

struct PlanNode {
    std::optional<Test> test;  ///< nothing where testing ends
    double minutes{};          ///< of this step, strip-down still to do included
    double expected{};         ///< minutes from here to the end of testing
    std::vector<std::string> caution;
    std::string fault;     ///< at the end: the likeliest fault
    std::string repair;    ///< at the end: what is repaired; empty: nothing is wrong that these tests can find
    double probability{};  ///< at the end: of that repair
    struct Branch {
        std::string outcome;  ///< "below 12.6 V", "dead", "any reading"
        double probability{};
        std::unique_ptr<PlanNode> then;
        std::optional<double> from;  ///< of a number, V or A: above this
        std::optional<double> to;    ///< and not above that
    };
    std::vector<Branch> branches;
};

struct PlanAnswer {
    std::unique_ptr<PlanNode> tree;
    double expected_minutes{};  ///< of tests, strip-down included
    double worst_minutes{};     ///< the longest way whose every step has a chance of 1 % or more
    double right{};             ///< probability that the tree ends at the right repair
    bool exact{false};          ///< every sequence was weighed
    std::vector<std::string> notes;
};

/// Plans from what the job tells. The end is where repairing the likeliest thing costs less than another test can
/// save, a wrong repair being priced at `minutes_wrong_repair`. Outcomes rarer than `least_shown` are left out of the
/// tree.
PlanAnswer plan_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options = {});
/// The same of a job that is weighed already, by the same options.
PlanAnswer plan_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                      std::shared_ptr<const Weighed> weighed);

/// The sequencing problem that a plan from what the job tells would stand on, with no more tests than these: those that
/// tell most a minute. Without the switch turned through its positions, which the job is taken to have.
SequencingProblem sequencing_problem(Simulator& simulator, const Circuit& circuit, const Job& job,
                                     const MatchOptions& options, std::size_t most_tests);

/// A branch rarer than this is not drawn: the reading is entered and the plan asked again.
inline constexpr double least_shown = 0.02;

}  // namespace voltfall
