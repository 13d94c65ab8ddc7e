// A diagnosis worked from start to stop by the tool's own plan: the first proposal of `next`, again and again.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/next.hpp"
#include "engine/readings/technician.hpp"

namespace voltfall {

struct WorkedStep {
    TestProposal test;  ///< as `next` proposes it; for free looks at what works its minutes and bits are 0
    Measured measured;
};

/// Where the plan ends.
struct WorkedRun {
    std::vector<WorkedStep> steps;
    Job job;                         ///< with the readings taken
    double minutes{};                ///< of the tests
    std::string condition;           ///< in which the tests were taken, or empty
    std::optional<StopAdvice> stop;  ///< nothing when the tests ran out or too many were taken
    MatchAnswer answer;              ///< after the last reading, most probable first; none where it was cut short
};

struct WorkedOptions {
    MatchOptions match;
    std::size_t most_steps{14};
    /// Conditions that may be brought about ("bump", "hot"): where one changes what works, all tests are taken in it.
    std::vector<std::string> conditions;
    /// Which proposals may be taken; empty: all.
    std::function<bool(const TestProposal&)> allowed;
    /// Hears of each step as it is taken; true where no further one is wanted. Empty: the run goes to its end.
    std::function<bool(const WorkedStep&)> enough;
};

/// First every control is turned through its positions (which costs nothing), then the first allowed proposal is
/// taken until `next` says stop. `start` may hold readings already. What cannot be measured is left out.
WorkedRun work_through(const Circuit& circuit, Job start, Technician& technician, const WorkedOptions& options = {});

/// The position of a repair among what is left, most probable first, each repair counted once: 0 is the first one that
/// would be made. Nothing when no candidate has it.
std::optional<std::size_t> repair_rank(const MatchAnswer& answer, const std::string& repair);

}  // namespace voltfall
