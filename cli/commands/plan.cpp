// `plan`: the whole troubleshooting tree from here.
#include "engine/planning/plan.hpp"

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/views/plan_view.hpp"
#include "engine/diagnosis/job_at_hand.hpp"

namespace voltfall {

namespace {

struct PlanArguments {
    std::string file;
    TypedReadings reads;
    std::vector<std::string> tools;
    bool two_faults{false};
    OutputFile drawing;
};

void declare(CLI::App& app, PlanArguments& arguments) {
    declare_job(app, arguments.file);
    declare_reads(app, arguments.reads);
    declare_tools(app, arguments.tools);
    app.add_flag("--two", arguments.two_faults, "plan for two independent faults at once too");
    declare_output(app, arguments.drawing, "draw the tree on one page: a file to write, SVG");
}

PlanAnswer make_plan(const PlanArguments& arguments, const Console& console, const Input& input) {
    MatchOptions options;
    options.workers = workers_of(console);
    options.two_faults = arguments.two_faults;
    options.two_where_one_fits_poorly = true;
    Progress progress(console, "");
    options.progress = progress.report();
    return plan_tests(console.sweep(), *input.circuit, input.job, options);
}

ExitStatus run(const PlanArguments& arguments, Console& console) {
    auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (const auto status = add_typed_readings(arguments.reads, console, *input)) return *status;
    if (!set_typed_tools(arguments.tools, console, *input)) return ExitStatus::usage;
    input->job = job_at_hand(input->job);
    say_cost(console, *input->circuit, input->job.readings.size());
    const PlanView view{input->circuit, input->job.concern, make_plan(arguments, console, *input)};
    const bool drawn = !arguments.drawing.path.empty();
    if (drawn) {
        const ExitStatus written = write_output(plan_drawing(view), arguments.drawing, console);
        if (written != ExitStatus::done) return written;
    }
    if (!drawn || console.options.format != Format::text) print(console, view, plan_text, plan_json, plan_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command plan_command = {
    "plan",
    "the whole way from here: which test first, which then for each outcome, with expected and worst minutes",
    "FILE [--read R]... [--tools T,..] [--two] [-o TREE.svg]",
    "voltfall plan weak-air.job.toml\n"
    "voltfall plan cab-blower.toml --read \"lo,ml,mh,hi blower dead\" --read \"fuse F7 good\" -o tree.svg",
    with_arguments<PlanArguments>(declare, run),
};

}  // namespace voltfall
