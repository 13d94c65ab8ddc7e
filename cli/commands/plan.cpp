// `plan`: the whole troubleshooting tree from here.
#include <fmt/format.h>

#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/views/plan_view.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "FILE", "a job, or a circuit with readings by --read");
    declare_reads(app, arguments);
    declare_tools(app, arguments);
    app.add_option("-o,--output", arguments.output, "draw the tree on one page: a file to write, SVG")
        ->type_name("FILE");
    app.add_flag("--force", arguments.force, "overwrite the file");
}

ExitStatus run(const Arguments& arguments, Console& console) {
    auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    if (!add_typed_readings(arguments, console, *input)) return ExitStatus::usage;
    if (!set_typed_tools(arguments, console, *input)) return ExitStatus::usage;
    MatchOptions options;
    options.workers = workers_of(arguments);
    PlanView view;
    view.circuit = input->circuit;
    view.concern = input->job.concern;
    say_cost(arguments, console, *input->circuit, input->job.readings.size());
    {
        Progress progress(arguments, console, "");
        options.progress = progress.report();
        view.answer = plan_tests(console.sweep(), *input->circuit, input->job, options);
    }
    if (!arguments.output.empty()) {
        const ExitStatus written = write_output(plan_drawing(view), arguments, console);
        if (written != ExitStatus::done) return written;
    }
    switch (arguments.format) {
        case Format::text:
            if (arguments.output.empty()) console.out << plan_text(view, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << plan_json(view);
            break;
        case Format::plain:
            console.out << plan_plain(view);
            break;
    }
    return ExitStatus::done;
}

}  // namespace

const Command plan_command = {
    "plan",
    "the whole way from here: which test first, which then for each outcome, with expected and worst minutes",
    "FILE [--read R]... [--tools T,..] [-o TREE.svg]",
    "voltfall plan weak-air.job.toml\n"
    "voltfall plan cab-blower.toml --read \"lo,m1,m2,hi blower dead\" --read \"fuse F7 good\" -o tree.svg",
    declare,
    run,
};

}  // namespace voltfall
