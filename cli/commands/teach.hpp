// The arguments of `teach`, and its two kinds of work: an exercise that a learner works, and sheets for a class.
#pragma once

#include <optional>
#include <string>

#include "cli/commands/console.hpp"
#include "cli/commands/output_file.hpp"
#include "engine/lessons/learner_run.hpp"
#include "netlists/files/typed_file.hpp"

namespace voltfall {

enum class TeachWork { exercise, show, handout, reveal, seal };

struct TeachArguments {
    std::string file;  ///< a lesson or a circuit; empty: only the results are shown
    TeachWork work{TeachWork::exercise};
    std::optional<int> level;
    bool commit{true};     ///< a suspect is named before each test
    std::string progress;  ///< file of results
    std::string who;       ///< initials
    OutputFile output;     ///< of a sheet or a sealed lesson
};

/// The exercise of a lesson or drawn for a circuit, or the status to end with.
struct LoadedExercise {
    std::optional<Exercise> exercise;
    ExitStatus status{ExitStatus::done};
};
LoadedExercise load_exercise(const TeachArguments& arguments, const TypedFile& file, const Console& console);

/// Lets the learner work, shows the debrief and adds the result to the file of results.
ExitStatus run_exercise(const TeachArguments& arguments, Console& console, const Exercise& exercise);

/// An exercise as a conversation: a line typed, an answer; the same through a pipe. Talks until the vehicle is handed
/// back, the exercise ends by itself, or the input does (then it is given up). With a format other than text nothing is
/// said.
/// An interrupt ends it as the end of the input does.
void hold_conversation(Console& console, LearnerRun& run, const RunOptions& options);

/// The worked run, the handout or the teacher's sheet.
ExitStatus show_sheet(const TeachArguments& arguments, Console& console, const Exercise& exercise);

}  // namespace voltfall
