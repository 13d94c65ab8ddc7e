// `next`: what to measure next.
#include <fmt/format.h>

#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/next_view.hpp"
#include "engine/diagnosis/match.hpp"
#include "engine/planning/next.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "FILE", "a job, or a circuit with readings by --read");
    declare_reads(app, arguments);
    declare_tools(app, arguments);
}

ExitStatus run(const Arguments& arguments, Console& console) {
    auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    if (!add_typed_readings(arguments, console, *input)) return ExitStatus::usage;
    if (!set_typed_tools(arguments, console, *input)) return ExitStatus::usage;
    MatchOptions options;
    options.workers = workers_of(arguments);
    NextView view;
    view.circuit = input->circuit;
    view.concern = input->job.concern;
    say_cost(arguments, console, *input->circuit, input->job.readings.size());
    {
        Progress progress(arguments, console, "");
        options.progress = progress.report();
        view.answer = next_tests(console.sweep(), *input->circuit, input->job, options);
    }
    view.next = fmt::format("voltfall match {} --read \"what you measured\"", arguments.files.front());
    switch (arguments.format) {
        case Format::text:
            console.out << next_text(view, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << next_json(view);
            break;
        case Format::plain:
            console.out << next_plain(view);
            break;
    }
    return ExitStatus::done;
}

}  // namespace

const Command next_command = {
    "next",
    "the measurements to take next, ranked by what they tell for their minutes, with the reading to expect",
    "FILE [--read R]... [--tools T,..]",
    "voltfall next weak-air.job.toml\n"
    "voltfall next cab-blower.toml --read \"lo,m1,m2 blower dead\" --top 3",
    declare,
    run,
};

}  // namespace voltfall
