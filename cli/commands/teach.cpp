// `teach`: a hidden fault to find with a meter that behaves.
#include <fmt/format.h>

#include <chrono>
#include <fstream>
#include <iterator>
#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/progress_file.hpp"
#include "cli/commands/teach_conversation.hpp"
#include "cli/views/debrief_view.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/teach_view.hpp"
#include "cli/views/text_table.hpp"
#include "engine/courses/dictionary.hpp"
#include "engine/lessons/debrief.hpp"
#include "engine/lessons/reason.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/lesson_file.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    app.add_option_function<std::string>(
           "FILE", [&arguments](const std::string& file) { arguments.files = {file}; },
           "a lesson, or a circuit whose fault is drawn by lot")
        ->type_name("");
    app.add_option_function<long long>(
           "--level", [&arguments](long long level) { arguments.level = static_cast<int>(level); },
           "1 feedback at once, 2 on wasted tests, 3 at the end")
        ->check(whole_number(1, 3))
        ->type_name("N");
    const auto work = [&](const std::string& name, TeachWork wanted, const std::string& what) {
        app.add_flag_callback(
            name, [&arguments, wanted] { arguments.teach = wanted; }, what);
    };
    work("--show", TeachWork::show, "play the exercise as a master would, with why at each step");
    work("--handout", TeachWork::handout, "a sheet for the class, without the answer");
    work("--reveal", TeachWork::reveal, "the teacher's sheet: what is hidden, the plan, the traps");
    work("--seal", TeachWork::seal, "the lesson's file with its answer not readable at a glance");
    app.add_flag_callback(
        "--no-commit", [&arguments] { arguments.commit = false; },
        "do not ask for a suspect before each test (level 3)");
    app.add_option("--progress", arguments.progress, "add the result to this CSV file; alone: show it by skill")
        ->type_name("FILE");
    app.add_option("--who", arguments.who, "the learner's initials, for --progress")->type_name("INITIALS");
}

/// The exercise of FILE, or the status to end with.
struct Loaded {
    std::optional<Exercise> exercise;
    ExitStatus status{ExitStatus::done};
};

Loaded load_lesson(const Arguments& arguments, const Console& console, const std::string& file) {
    LessonReading reading = read_lesson_file(file);
    report_problems(arguments, console, reading.problems, file);
    if (!reading.lesson) return {std::nullopt, ExitStatus::file_errors};
    return {exercise_of(console.sweep(), reading.circuit, *reading.lesson, static_cast<std::uint64_t>(arguments.seed),
                        arguments.level.value_or(0)),
            ExitStatus::done};
}

Loaded load(const Arguments& arguments, const Console& console) {
    const std::string& file = arguments.files.front();
    if (is_lesson_file(file)) return load_lesson(arguments, console, file);
    if (const JobReading job = read_job_file(file); job.job && job.job->circuit_path != file) {
        say(console, fmt::format("{} is a job; teach takes a lesson or a circuit", file),
            fmt::format("voltfall teach {}", job.job->circuit_path));
        return {std::nullopt, ExitStatus::usage};
    }
    CircuitReading reading = read_circuit_file(file);
    if (reading.circuit) reading.problems.add_all(check_wiring(*reading.circuit));
    reading.problems.sort();
    report_problems(arguments, console, reading.problems, file);
    if (!reading.circuit || reading.problems.has_errors()) return {std::nullopt, ExitStatus::file_errors};
    auto drawn = draw_exercise(console.sweep(), reading.circuit, static_cast<std::uint64_t>(arguments.seed),
                               arguments.level.value_or(1));
    if (!drawn) {
        say(console, drawn.error());
        return {std::nullopt, ExitStatus::cannot};
    }
    return {*std::move(drawn), ExitStatus::done};
}

std::string today() {
    const auto now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    std::tm date{};
    gmtime_r(&now, &date);
    return fmt::format("{:04}-{:02}-{:02}", date.tm_year + 1900, date.tm_mon + 1, date.tm_mday);
}

void write_debrief(const Arguments& arguments, Console& console, const DebriefView& view) {
    switch (arguments.format) {
        case Format::text:
            console.out << '\n' << debrief_text(view, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << debrief_json(view);
            break;
        case Format::plain:
            console.out << debrief_plain(view);
            break;
    }
}

/// The learner's run beside the tool's own.
DebriefView worked_debrief(const Arguments& arguments, Console& console, const Exercise& exercise, LearnerRun& run,
                           MatchOptions options) {
    Progress progress(arguments, console, "debrief");
    options.progress = progress.report();
    run.weigh_rest();
    const LessonPlan plan = plan_of(console.sweep(), exercise, options);
    return {arguments.files.front(), exercise.lesson.title, exercise.lesson.skill,
            exercise.lesson.level,   arguments.seed,        debrief_of(console.sweep(), run, &plan)};
}

ExitStatus run_exercise(const Arguments& arguments, Console& console, const Exercise& exercise) {
    Dictionary dictionary(console.sweep(), *exercise.circuit);
    RunOptions options;
    options.match.workers = workers_of(arguments);
    options.match.dictionary = &dictionary;
    const int level = exercise.lesson.level;
    options.commit = arguments.commit || level < 3;
    // At level 3 nothing is told before the end, so that nothing need be weighed before it either.
    options.weigh = level < 3 && exercise.lesson.coach;
    LearnerRun run(console.sweep(), exercise, options);
    hold_conversation(arguments, console, run, options);
    const DebriefView view = worked_debrief(arguments, console, exercise, run, options.match);
    write_debrief(arguments, console, view);
    if (!arguments.progress.empty()) {
        if (const auto error = append_progress(arguments.progress, progress_line(view, arguments.who, today()))) {
            say(console, *error);
            return ExitStatus::cannot;
        }
    }
    return view.debrief.verdict == Verdict::solved ? ExitStatus::done : ExitStatus::no;
}

ExitStatus show_progress(const Arguments& arguments, Console& console) {
    const auto progress = read_progress(arguments.progress);
    if (!progress) {
        say(console, fmt::format("cannot read {}", arguments.progress));
        return ExitStatus::cannot;
    }
    TextTable table({{"who"},
                     {"skill", Align::left, Fold::words},
                     {"solved", Align::right},
                     {"min", Align::right},
                     {"plan min", Align::right, Fold::whole, 1},
                     {"blind", Align::right, Fold::whole, 2},
                     {"wrong parts", Align::right, Fold::words},
                     {"guesses", Align::right, Fold::whole, 3},
                     {"unsafe", Align::right}});
    PlainRecords records;
    for (const SkillRecord& r : progress->records) {
        table.row({r.who, r.skill, fmt::format("{}/{}", r.solved, r.runs), write_fixed(r.minutes, 0),
                   write_fixed(r.plan_minutes, 0), fmt::format("{}/{}", r.blind_tests, r.tests),
                   std::to_string(r.wrong_parts), std::to_string(r.guesses), std::to_string(r.unsafe)});
        records.record({"skill", r.who, r.skill, std::to_string(r.solved), std::to_string(r.runs),
                        plain_number(r.minutes), plain_number(r.plan_minutes), std::to_string(r.blind_tests),
                        std::to_string(r.tests), std::to_string(r.wrong_parts), std::to_string(r.guesses),
                        std::to_string(r.unsafe)});
    }
    if (arguments.format != Format::text) {
        console.out << records.text();
        return ExitStatus::done;
    }
    TextPage page(answer_style(arguments, console));
    page.table(table, 0);
    page.paragraph("evidence for a teacher, not a pass: hands are watched by people", 0, 0, Tone::quiet);
    if (progress->broken > 0)
        page.paragraph(counted(progress->broken, "line") + " could not be read", 0, 2, Tone::caution);
    console.out << page.text();
    return ExitStatus::done;
}

ExitStatus seal(const Arguments& arguments, Console& console) {
    std::ifstream file(arguments.files.front(), std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    console.out << seal_lesson(text);
    return ExitStatus::done;
}

ExitStatus show_sheet(const Arguments& arguments, Console& console, const Exercise& exercise) {
    const PageStyle style = answer_style(arguments, console);
    Simulator& simulator = console.sweep();
    if (arguments.teach == TeachWork::handout) {
        console.out << handout_text(exercise, style);
        return ExitStatus::done;
    }
    MatchOptions match;
    match.workers = workers_of(arguments);
    const LessonPlan plan = plan_of(simulator, exercise, match);
    if (arguments.teach == TeachWork::reveal)
        console.out << reveal_text(simulator, exercise, plan, style);
    else
        console.out << worked_text(exercise, plan, electrical_reason(simulator, exercise), style);
    return plan.solved ? ExitStatus::done : ExitStatus::no;
}

ExitStatus run(const Arguments& arguments, Console& console) {
    if (arguments.files.empty()) {
        if (!arguments.progress.empty()) return show_progress(arguments, console);
        say(console, "teach needs a lesson or a circuit", "voltfall teach --help shows how");
        return ExitStatus::usage;
    }
    if (!arguments.progress.empty() && !is_initials(arguments.who)) {
        say(console, "--progress needs the learner's initials, one to four letters", "add --who AB");
        return ExitStatus::usage;
    }
    if (arguments.teach != TeachWork::exercise && arguments.format != Format::text) {
        say(console, "sheets are text; only the debrief of an exercise has other formats", "leave --format out");
        return ExitStatus::usage;
    }
    Loaded loaded = load(arguments, console);
    if (!loaded.exercise) return loaded.status;
    const int level = loaded.exercise->lesson.level;
    if (!arguments.commit && level < 3) {
        say(console, fmt::format("--no-commit is for level 3; this exercise is level {}", level), "add --level 3");
        return ExitStatus::usage;
    }
    if (arguments.teach == TeachWork::seal) return seal(arguments, console);
    if (arguments.teach != TeachWork::exercise) return show_sheet(arguments, console, *loaded.exercise);
    return run_exercise(arguments, console, *loaded.exercise);
}

}  // namespace

const Command teach_command = {
    "teach",
    "a hidden fault to find on a bench that behaves: minutes, parts and risk counted, the reason at the end",
    "LESSON or CIRCUIT [--seed N] [--level N]",
    "voltfall teach scenarios/lessons/full-volts.toml\n"
    "voltfall teach cab-blower.toml --level 2 --seed 7\n"
    "voltfall teach scenarios/lessons/full-volts.toml --handout\n"
    "voltfall teach --progress class.csv",
    declare,
    run,
};

}  // namespace voltfall
