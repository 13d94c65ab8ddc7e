// `check`: is this file right?
#include <filesystem>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/check_view.hpp"

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

ExitStatus run(const CheckArguments& arguments, Console& console) {
    CheckAnswer answer;
    for (const std::string& file : arguments.files) {
        MatchOptions options;
        options.workers = workers_of(console);
        const TypedFile typed = read_typed_file(file, console.in);
        if (is_settings(typed.toml)) {
            Problems problems = typed.problems;
            (void)read_settings(typed.toml, problems);
            problems.sort();
            answer.files.push_back({file, problems.list(), std::nullopt, file});
            continue;
        }
        Progress progress(console, std::filesystem::path(file).filename().string());
        options.progress = progress.report();
        answer.files.push_back(check_file(console.sweep(), typed, options));
    }
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
    with_arguments(declare, run),
};

}  // namespace voltfall
