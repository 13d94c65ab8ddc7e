// `check`: is this file right?
#include <algorithm>
#include <filesystem>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/check_view.hpp"
#include "netlists/platform/paths.hpp"

namespace voltfall {

namespace {

struct CheckArguments {
    std::vector<std::string> files;
};

void declare(CLI::App& app, CheckArguments& arguments) {
    app.add_option("FILE", arguments.files, "circuits, jobs and lessons; the circuit that one names is checked with it")
        ->required()
        ->type_name("");
}

/// What is told of one file without trying a lesson out.
CheckedFile first_look(Console& console, const TypedFile& typed) {
    // The file that every command takes settings from is one whatever it says.
    std::error_code unknown;
    const bool own = std::filesystem::equivalent(path_of(typed.toml.path), path_of(settings_path()), unknown);
    if (!own && !is_settings(typed.toml)) return check_file(console.sweep(), typed, {}, LessonTrial::left_out);
    Problems problems = typed.problems;
    (void)read_settings(typed.toml, problems);
    problems.sort();
    return {typed.toml.path, problems.list(), std::nullopt, typed.toml.path};
}

/// Tries every lesson out, one after the other.
void try_lessons(Console& console, const std::vector<TypedFile>& typed, CheckAnswer& answer) {
    for (std::size_t i = 0; i < typed.size(); ++i) {
        if (typed[i].kind != FileKind::lesson) continue;
        MatchOptions options;
        options.workers = workers_of(console);
        Progress progress(console, path_text(path_of(typed[i].toml.path).filename()));
        options.progress = progress.report();
        answer.files[i] = check_file(console.sweep(), typed[i], options);
    }
}

/// Mistakes of any file come before the trials of lessons, which take seconds each.
ExitStatus run(const CheckArguments& arguments, Console& console) {
    CheckAnswer answer;
    std::vector<TypedFile> typed;
    for (const std::string& file : arguments.files) {
        typed.push_back(read_typed_file(file, console.in));
        answer.files.push_back(first_look(console, typed.back()));
    }
    const auto untried = std::count_if(typed.begin(), typed.end(), [&](const TypedFile& file) {
        const CheckedFile& checked = answer.files[static_cast<std::size_t>(&file - typed.data())];
        return file.kind == FileKind::lesson && checked.ok();
    });
    if (answer.ok())
        try_lessons(console, typed, answer);
    else if (untried > 0 && !console.options.quiet)
        say(console, std::to_string(untried) + (untried == 1 ? " lesson was" : " lessons were") +
                         " read and not tried out: the mistakes come first");
    print(console, answer, check_text, check_json, check_plain);
    return answer.ok() ? ExitStatus::done : ExitStatus::file_errors;
}

}  // namespace

extern const Command check_command = {
    "check",
    "is this file right? every problem with its place and a suggestion, then the sense of the wiring",
    "FILE...",
    "voltfall check cab-blower.toml\n"
    "voltfall new module-pwm | voltfall check -\n"
    "voltfall check *.toml --format json",
    with_arguments<CheckArguments>(declare, run),
};

}  // namespace voltfall
