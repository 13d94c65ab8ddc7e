// `match`: which faults fit these readings.
#include <algorithm>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/match_view.hpp"
#include "engine/diagnosis/job_at_hand.hpp"
#include "engine/planning/next.hpp"

namespace voltfall {

namespace {

struct MatchArguments {
    std::string file;
    TypedReadings reads;
    bool two_faults{false};
    bool why{false};
};

void declare(CLI::App& app, MatchArguments& arguments) {
    declare_job(app, arguments.file);
    declare_reads(app, arguments.reads);
    app.add_flag("--why", arguments.why, "every suspect with its reasons, and what is ruled out");
    app.add_flag("--two", arguments.two_faults, "weigh two independent faults at once too");
}

enum class NextTest { left_out, told };

/// What is printed of the job: it is weighed once, whatever is told of it.
MatchView view_of(const MatchArguments& arguments, const Console& console, const Input& input, NextTest next) {
    MatchOptions options;
    options.workers = workers_of(console);
    options.two_faults = arguments.two_faults;
    options.two_where_one_fits_poorly = true;
    if (const auto& top = console.options.top) options.keep = std::max(options.keep, static_cast<std::size_t>(*top));
    Progress progress(console, "");
    options.progress = progress.report();
    Simulator& simulator = console.sweep();
    const std::shared_ptr<const Weighed> weighed = weigh(simulator, *input.circuit, input.job, options);
    MatchView view{input.job.concern, match(simulator, *input.circuit, input.job, options, *weighed),
                   input.circuit.get(), "voltfall next " + arguments.file};
    view.why = arguments.why;
    view.next += options_of(arguments.reads);
    if (next == NextTest::left_out) return view;
    NextAnswer answer = next_tests(simulator, *input.circuit, input.job, options, weighed);
    if (!answer.tests.empty()) view.test = std::move(answer.tests.front());
    return view;
}

ExitStatus run(const MatchArguments& arguments, Console& console) {
    auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (const auto status = add_typed_readings(arguments.reads, console, *input)) return *status;
    input->job = job_at_hand(input->job);
    say_cost(console, *input->circuit, input->job.readings.size());
    const bool first_screen = console.options.format == Format::text && !arguments.why && !console.options.all;
    const MatchView view = view_of(arguments, console, *input, first_screen ? NextTest::told : NextTest::left_out);
    print(console, view, match_text, match_json, match_plain);
    return none_leads(view.answer) ? ExitStatus::no : ExitStatus::done;
}

}  // namespace

extern const Command match_command = {
    "match",
    "which faults fit these readings, how well and why, and which reading is doubtful",
    "FILE [--read R]... [--read-from LIST] [--why] [--two]",
    "voltfall match weak-air.job.toml\n"
    "voltfall match cab-blower.toml --read \"hi M1.1 to B1- 10.3V\" --read \"lo,ml,mh blower dead\"",
    with_arguments<MatchArguments>(declare, run),
};

}  // namespace voltfall
