// What a learner reads while an exercise runs, and the sheets for the class and the teacher.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/lessons/learner_run.hpp"
#include "engine/lessons/lesson_plan.hpp"

namespace voltfall {

/// Goal, concern, vehicle, budget; how to go on.
void write_intro(TextPage& page, const Exercise& exercise, bool commit);
/// The words of the bench, with names of this circuit.
void write_bench_words(TextPage& page, const Circuit& circuit, bool commit);
/// Where a probe may stand, with the minutes to get there.
void write_points(TextPage& page, const Bench& bench);
/// The ways of the loads in every position.
void write_ways(TextPage& page, const Circuit& circuit);
/// What a line did, its cautions aside. `coach`: what it did to the suspects; `level` as the lesson's.
void write_step(TextPage& page, const RunStep& step, const Exercise& exercise, bool coach);
/// What works in which position.
void write_tried(TextPage& page, const Circuit& circuit, const std::vector<RunStep>& steps);

/// A sheet for the class, without the answer.
std::string handout_text(const Exercise& exercise, PageStyle style);
/// The teacher's sheet: what is hidden, the plan, the traps and what they show.
std::string reveal_text(Simulator& simulator, const Exercise& exercise, const LessonPlan& plan, PageStyle style);
/// The worked run, with why at each step.
std::string worked_text(const Exercise& exercise, const LessonPlan& plan, const std::vector<std::string>& reason,
                        PageStyle style);

}  // namespace voltfall
