// A lesson as a class works it: what is the same for all learners is computed once.
#pragma once

#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "engine/courses/dictionary.hpp"
#include "engine/lessons/learner_run.hpp"
#include "engine/lessons/lesson_plan.hpp"

namespace voltfall {

class ServedLesson {
public:
    /// `stem` names it in addresses and files: "dark-lamp".
    ServedLesson(Simulator& simulator, std::string stem, Exercise exercise);

    const std::string& stem() const { return stem_; }
    const Exercise& exercise() const { return exercise_; }
    Simulator& simulator() const { return simulator_; }
    /// How a learner's run goes: feedback as the lesson's level says.
    const RunOptions& options() const { return options_; }
    /// What the tool itself would do; computed at the first call. May be called from several threads.
    const LessonPlan& plan();

private:
    Simulator& simulator_;
    std::string stem_;
    Exercise exercise_;
    Dictionary dictionary_;
    RunOptions options_;
    std::mutex lock_;
    std::optional<LessonPlan> plan_;
};

}  // namespace voltfall
