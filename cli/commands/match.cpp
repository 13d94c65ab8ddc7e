// `match`: which faults fit these readings.
#include "engine/diagnosis/match.hpp"

#include <algorithm>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/match_view.hpp"
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

MatchAnswer weigh(const MatchArguments& arguments, const Console& console, const Input& input) {
    MatchOptions options;
    options.workers = workers_of(console);
    options.two_faults = arguments.two_faults;
    options.two_where_one_fits_poorly = true;
    if (const auto& top = console.options.top) options.keep = std::max(options.keep, static_cast<std::size_t>(*top));
    Progress progress(console, "");
    options.progress = progress.report();
    return match(console.sweep(), *input.circuit, input.job, options);
}

/// The test to take next; nullopt where none tells the suspects apart.
std::optional<TestProposal> best_test(const Console& console, const Input& input) {
    MatchOptions options;
    options.workers = workers_of(console);
    Progress progress(console, "");
    options.progress = progress.report();
    NextAnswer answer = next_tests(console.sweep(), *input.circuit, input.job, options);
    if (answer.tests.empty()) return std::nullopt;
    return std::move(answer.tests.front());
}

ExitStatus run(const MatchArguments& arguments, Console& console) {
    auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (const auto status = add_typed_readings(arguments.reads, console, *input)) return *status;
    say_cost(console, *input->circuit, input->job.readings.size());
    MatchView view{input->job.concern, weigh(arguments, console, *input), input->circuit.get(),
                   "voltfall next " + arguments.file};
    view.why = arguments.why;
    view.next += options_of(arguments.reads);
    const bool first_screen = console.options.format == Format::text && !arguments.why && !console.options.all;
    if (first_screen) view.test = best_test(console, *input);
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
    with_arguments(declare, run),
};

}  // namespace voltfall
