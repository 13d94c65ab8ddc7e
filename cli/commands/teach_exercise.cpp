// An exercise from its file to its debrief.
#include <fmt/format.h>

#include <chrono>
#include <ctime>

#include "cli/commands/inputs.hpp"
#include "cli/commands/teach.hpp"
#include "cli/views/debrief_view.hpp"
#include "engine/courses/dictionary.hpp"
#include "engine/lessons/debrief.hpp"
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/lesson_file.hpp"

namespace voltfall {

namespace {

LoadedExercise load_lesson(const TeachArguments& arguments, const Console& console) {
    LessonReading reading = read_lesson_file(arguments.file);
    report_problems(console, reading.problems, arguments.file);
    if (!reading.lesson) return {std::nullopt, ExitStatus::file_errors};
    return {exercise_of(console.sweep(), reading.circuit, *reading.lesson,
                        static_cast<std::uint64_t>(console.options.seed), arguments.level.value_or(0)),
            ExitStatus::done};
}

std::string today() {
    const auto now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    std::tm date{};
    gmtime_r(&now, &date);
    return fmt::format("{:04}-{:02}-{:02}", date.tm_year + 1900, date.tm_mon + 1, date.tm_mday);
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

LoadedExercise load_exercise(const TeachArguments& arguments, const Console& console) {
    const std::string& file = arguments.file;
    if (is_lesson_file(file)) return load_lesson(arguments, console);
    if (const JobReading job = read_job_file(file); job.job && job.job->circuit_path != file) {
        say(console, fmt::format("{} is a job; teach takes a lesson or a circuit", file),
            fmt::format("voltfall teach {}", job.job->circuit_path));
        return {std::nullopt, ExitStatus::usage};
    }
    CircuitReading reading = read_circuit_file(file);
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
    return {*std::move(drawn), ExitStatus::done};
}

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
    hold_conversation(console, run, options);
    const LearnerResult result = result_of(arguments, console, run, options.match);
    if (console.options.format == Format::text) write_out(console, "\n");
    print(console, result, debrief_text, debrief_json, debrief_plain);
    if (!arguments.progress.empty()) {
        if (const auto error = append_progress(arguments.progress, progress_line(result, arguments.who, today()))) {
            say(console, *error);
            return ExitStatus::cannot;
        }
    }
    return result.debrief.verdict == Verdict::solved ? ExitStatus::done : ExitStatus::no;
}

}  // namespace voltfall
