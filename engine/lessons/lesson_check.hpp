// Is a lesson fair? Solvable inside its budget, every allowed action answered, its traps really there.
#pragma once

#include "engine/diagnosis/match.hpp"
#include "engine/lessons/exercise.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// Problems of a lesson that reads well: errors where a learner would be wronged. No message names what is hidden.
Problems check_lesson(Simulator& simulator, std::shared_ptr<const Circuit> circuit, const Lesson& lesson,
                      const MatchOptions& options);

}  // namespace voltfall
