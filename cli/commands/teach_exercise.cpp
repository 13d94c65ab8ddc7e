// An exercise from its file to its debrief.
#include <fmt/format.h>

#include <chrono>

#include "cli/commands/inputs.hpp"
#include "cli/commands/line_input.hpp"
#include "cli/commands/teach.hpp"
#include "cli/views/debrief_view.hpp"
#include "engine/courses/dictionary.hpp"
#include "engine/lessons/debrief.hpp"
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/lesson_file.hpp"

namespace voltfall {

namespace {

LoadedExercise load_lesson(const TeachArguments& arguments, const TypedFile& file, const Console& console) {
    const LessonReading reading = read_lesson(file.toml, file.problems);
    report_problems(console, reading.problems, file.toml.path);
    if (!reading.lesson) return {std::nullopt, ExitStatus::file_errors};
    return {exercise_of(console.sweep(), reading.circuit, *reading.lesson,
                        static_cast<std::uint64_t>(console.options.seed), arguments.level.value_or(0)),
            ExitStatus::done};
}

std::string today() {
    const std::chrono::year_month_day date{std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

/// The learner's run beside the tool's own.
LearnerResult result_of(const TeachArguments& arguments, const Console& console, LearnerRun& run,
                        MatchOptions options) {
    const Lesson& lesson = run.exercise().lesson;
    Progress progress(console, "debrief");
    options.progress = progress.report();
    run.weigh_rest();
    const LessonPlan plan = plan_of(console.sweep(), run.exercise(), options);
    return {arguments.file, lesson.title,         lesson.skill,
            lesson.level,   console.options.seed, debrief_of(console.sweep(), run, &plan)};
}

}  // namespace

LoadedExercise load_exercise(const TeachArguments& arguments, const TypedFile& typed, const Console& console) {
    if (typed.kind == FileKind::lesson) return load_lesson(arguments, typed, console);
    const std::string& file = typed.toml.path;
    JobReading reading = read_job(typed.toml, typed.problems);
    if (reading.job && reading.job->circuit_path != file) {
        say(console, fmt::format("{} is a job; teach takes a lesson or a circuit", file),
            fmt::format("voltfall teach {}", reading.job->circuit_path));
        return {std::nullopt, ExitStatus::usage};
    }
    if (reading.circuit) reading.problems.add_all(check_wiring(*reading.circuit));
    reading.problems.sort();
    report_problems(console, reading.problems, file);
    if (!reading.circuit || reading.problems.has_errors()) return {std::nullopt, ExitStatus::file_errors};
    auto drawn = draw_exercise(console.sweep(), reading.circuit, static_cast<std::uint64_t>(console.options.seed),
                               arguments.level.value_or(1));
    if (!drawn) {
        say(console, drawn.error());
        return {std::nullopt, ExitStatus::cannot};
    }
    MatchOptions options;
    options.workers = workers_of(console);
    Lesson& lesson = drawn->lesson;
    lesson.budget_minutes = fair_budget(lesson.budget_minutes, plan_of(console.sweep(), *drawn, options));
    return {*std::move(drawn), ExitStatus::done};
}

namespace {

/// Adds the result to the file of results; what cannot be kept there is shown, so that it is not lost.
bool keep_result(const TeachArguments& arguments, const Console& console, const LearnerResult& result) {
    const std::string line = progress_line(result, arguments.who, today());
    const auto failure = append_progress(arguments.progress, line);
    if (!failure) return true;
    say(console, failure->message, failure->suggestion);
    say(console, "the result as it would stand there:", line.substr(0, line.size() - 1));
    return false;
}

}  // namespace

ExitStatus run_exercise(const TeachArguments& arguments, Console& console, const Exercise& exercise) {
    Dictionary dictionary(console.sweep(), *exercise.circuit);
    RunOptions options;
    options.match.workers = workers_of(console);
    options.match.dictionary = &dictionary;
    const int level = exercise.lesson.level;
    options.commit = arguments.commit || level < 3;
    // At level 3 nothing is told before the end, so that nothing need be weighed before it either.
    options.weigh = level < 3 && exercise.lesson.coach;
    LearnerRun run(console.sweep(), exercise, options);
    bool interrupted = false;
    {
        const InterruptEndsInput watched;
        hold_conversation(console, run, options);
        interrupted = InterruptEndsInput::happened();
    }
    const LearnerResult result = result_of(arguments, console, run, options.match);
    if (console.options.format == Format::text) write_out(console, "\n");
    print(console, result, debrief_text, debrief_json, debrief_plain);
    if (!arguments.progress.empty() && !keep_result(arguments, console, result)) return ExitStatus::cannot;
    if (interrupted) return ExitStatus::interrupted;
    return result.debrief.verdict == Verdict::solved ? ExitStatus::done : ExitStatus::no;
}

}  // namespace voltfall
