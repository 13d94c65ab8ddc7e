// `teach`: a hidden fault to find with a meter that behaves.
#include "cli/commands/teach.hpp"

#include <fmt/format.h>

#include <istream>
#include <iterator>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/debrief_view.hpp"
#include "cli/views/teach_view.hpp"
#include "engine/lessons/reason.hpp"
#include "netlists/files/lesson_file.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, TeachArguments& arguments) {
    app.add_option_function<std::string>(
           "FILE", [&arguments](const std::string& file) { arguments.file = file; },
           "a lesson, or a circuit whose fault is drawn at random")
        ->type_name("");
    app.add_option_function<long long>(
           "--level", [&arguments](long long level) { arguments.level = static_cast<int>(level); },
           "1 feedback at once, 2 on wasted tests, 3 at the end")
        ->check(whole_number(1, 3))
        ->type_name("N");
    const auto work = [&](const std::string& name, TeachWork wanted, const std::string& what) {
        app.add_flag_callback(
            name, [&arguments, wanted] { arguments.work = wanted; }, what);
    };
    work("--show", TeachWork::show, "play the exercise as a master would, with why at each step");
    work("--handout", TeachWork::handout, "a sheet for the class, without the answer");
    work("--reveal", TeachWork::reveal, "the teacher's sheet: what is hidden, the plan, the traps");
    work("--seal", TeachWork::seal, "the lesson's file with its answer not readable at a glance, to -o FILE");
    app.add_flag_callback(
        "--no-commit", [&arguments] { arguments.commit = false; },
        "do not ask for a suspect before each test (level 3)");
    app.add_option("--progress", arguments.progress, "add the result to this CSV file; alone: show it by skill")
        ->type_name("FILE");
    app.add_option("--who", arguments.who, "the learner's initials, for --progress")->type_name("INITIALS");
    declare_output(app, arguments.output, "write the sheet or the sealed lesson to this file");
}

ExitStatus show_progress(const TeachArguments& arguments, Console& console) {
    const auto progress = arguments.progress == standard_input_name
                              ? read_progress_text({std::istreambuf_iterator<char>(console.in), {}})
                              : read_progress(arguments.progress);
    if (!progress) {
        say(console, progress.error().message, progress.error().suggestion);
        return ExitStatus::cannot;
    }
    write_out(console, console.options.format == Format::text ? progress_text(*progress, answer_style(console))
                                                              : progress_plain(*progress));
    return ExitStatus::done;
}

/// A sheet, to the file of -o or to stdout.
ExitStatus hand_over(const std::string& text, const TeachArguments& arguments, const Console& console) {
    if (!arguments.output.path.empty()) return write_output(text, arguments.output, console);
    write_out(console, text);
    return ExitStatus::done;
}

ExitStatus usage(const Console& console, const std::string& message, const std::string& suggestion) {
    say(console, message, suggestion);
    return ExitStatus::usage;
}

ExitStatus run(const TeachArguments& arguments, Console& console) {
    if (arguments.file.empty()) {
        if (!arguments.progress.empty()) return show_progress(arguments, console);
        return usage(console, "teach needs a lesson or a circuit", "voltfall teach --help shows how");
    }
    if (!arguments.progress.empty() && !is_initials(arguments.who))
        return usage(console, "--progress needs the learner's initials, one to four letters", "add --who AB");
    if (arguments.work != TeachWork::exercise && console.options.format != Format::text)
        return usage(console, "sheets are text; only the debrief of an exercise has other formats",
                     "leave --format out");
    if (arguments.work == TeachWork::exercise && !arguments.output.path.empty())
        return usage(console, "-o is for a sheet or a sealed lesson; an exercise is a conversation",
                     "voltfall teach LESSON --progress FILE keeps its result");
    if (arguments.work == TeachWork::exercise && arguments.file == standard_input_name)
        return usage(console, "the learner's lines come from standard input; the lesson cannot",
                     "name the lesson's file, or add --show, --handout or --reveal");
    if (!arguments.progress.empty()) {
        if (const auto failure = cannot_append(arguments.progress)) {
            say(console, failure->message, failure->suggestion);
            return ExitStatus::cannot;
        }
    }
    const TypedFile typed = read_typed_file(arguments.file, console.in);
    const LoadedExercise loaded = load_exercise(arguments, typed, console);
    if (!loaded.exercise) return loaded.status;
    const int level = loaded.exercise->lesson.level;
    if (!arguments.commit && level < 3)
        return usage(console, fmt::format("--no-commit is for level 3; this exercise is level {}", level),
                     "add --level 3");
    if (arguments.work == TeachWork::seal) return hand_over(seal_lesson(typed.text), arguments, console);
    if (arguments.work != TeachWork::exercise) return show_sheet(arguments, console, *loaded.exercise);
    return run_exercise(arguments, console, *loaded.exercise);
}

}  // namespace

ExitStatus show_sheet(const TeachArguments& arguments, Console& console, const Exercise& exercise) {
    const PageStyle style = answer_style(console);
    Simulator& simulator = console.sweep();
    if (arguments.work == TeachWork::handout) return hand_over(handout_text(exercise, style), arguments, console);
    MatchOptions match;
    match.workers = workers_of(console);
    const LessonPlan plan = plan_of(simulator, exercise, match);
    const std::string sheet = arguments.work == TeachWork::reveal
                                  ? reveal_text(simulator, exercise, plan, style)
                                  : worked_text(exercise, plan, electrical_reason(simulator, exercise), style);
    const ExitStatus written = hand_over(sheet, arguments, console);
    return written == ExitStatus::done && !plan.solved ? ExitStatus::no : written;
}

extern const Command teach_command = {
    "teach",
    "a hidden fault to find on a bench that behaves: minutes, parts and risk counted, the reason at the end",
    "LESSON or CIRCUIT [--seed N] [--level N]",
    "voltfall teach scenarios/lessons/full-volts.toml\n"
    "voltfall teach cab-blower.toml --level 2 --seed 7\n"
    "voltfall teach scenarios/lessons/full-volts.toml --handout\n"
    "voltfall teach mine.toml --seal -o sealed.toml\n"
    "voltfall teach --progress class.csv",
    with_arguments<TeachArguments>(declare, run),
};

}  // namespace voltfall
