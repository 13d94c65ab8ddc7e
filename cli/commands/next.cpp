// `next`: what to measure next.
#include "engine/planning/next.hpp"

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/next_view.hpp"
#include "engine/diagnosis/job_at_hand.hpp"

namespace voltfall {

namespace {

struct NextArguments {
    std::string file;
    TypedReadings reads;
    std::vector<std::string> tools;
    bool two_faults{false};
};

void declare(CLI::App& app, NextArguments& arguments) {
    declare_job(app, arguments.file);
    declare_reads(app, arguments.reads);
    declare_tools(app, arguments.tools);
    app.add_flag("--two", arguments.two_faults, "plan for two independent faults at once too");
}

NextAnswer propose(const NextArguments& arguments, const Console& console, const Input& input) {
    MatchOptions options;
    options.workers = workers_of(console);
    options.two_faults = arguments.two_faults;
    options.two_where_one_fits_poorly = true;
    Progress progress(console, "");
    options.progress = progress.report();
    return next_tests(console.sweep(), *input.circuit, input.job, options);
}

ExitStatus run(const NextArguments& arguments, Console& console) {
    auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (const auto status = add_typed_readings(arguments.reads, console, *input)) return *status;
    if (!set_typed_tools(arguments.tools, console, *input)) return ExitStatus::usage;
    input->job = job_at_hand(input->job);
    say_cost(console, *input->circuit, input->job.readings.size());
    const NextView view{input->circuit, input->job.concern, propose(arguments, console, *input),
                        "voltfall match " + arguments.file + " --read \"what you measured\""};
    print(console, view, next_text, next_json, next_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command next_command = {
    "next",
    "the measurements to take next, ranked by what they tell for their minutes, with the reading to expect",
    "FILE [--read R]... [--tools T,..] [--two]",
    "voltfall next weak-air.job.toml\n"
    "voltfall next cab-blower.toml --read \"lo,ml,mh blower dead\" --top 3",
    with_arguments<NextArguments>(declare, run),
};

}  // namespace voltfall
