// An exercise as a conversation: a line typed, an answer; the same through a pipe.
#pragma once

#include "cli/commands/arguments.hpp"
#include "cli/commands/console.hpp"
#include "engine/lessons/learner_run.hpp"

namespace voltfall {

/// Talks until the vehicle is handed back, the exercise ends by itself, or the input does (then it is given up). With a
/// format other than text nothing is said.
void hold_conversation(const Arguments& arguments, Console& console, LearnerRun& run, const RunOptions& options);

}  // namespace voltfall
