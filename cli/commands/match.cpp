// `match`: which faults fit these readings.
#include "engine/diagnosis/match.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/match_view.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "FILE", "a job, or a circuit with readings by --read");
    declare_reads(app, arguments);
    app.add_flag("--two", arguments.two_faults, "weigh two independent faults at once too");
}

/// Minutes to the thing to repair: its own, else those of the part it belongs to ("C101.4" is reached with C101), for a
/// wire those of its nearer end.
Circuit::Reach reach_of_repair(const Circuit& circuit, const std::string& repair) {
    const std::string_view owner = read_place(repair).owner;
    std::vector<std::string> places = {repair, std::string(owner)};
    for (const Part& part : circuit.parts) {
        if (part.plug.empty()) continue;
        if (same_word(part.name, owner)) places.push_back(part.plug);
        if (same_word(part.plug, owner)) places.push_back(part.name);
    }
    if (const WireId wire = circuit.find_wire(repair); wire.valid())
        for (const WireEnd* end : {&circuit.wire(wire).from, &circuit.wire(wire).to})
            places.push_back(circuit.joint(end->joint).place);
    Circuit::Reach best = circuit.reach_of(repair);
    for (const std::string& place : places) {
        const Circuit::Reach reach = circuit.reach_of(place);
        if (reach.known && (!best.known || reach.minutes < best.minutes)) best = reach;
    }
    return best;
}

/// What a repair costs before the first screw is turned: reaching the place.
void add_costs(MatchView& view, const Circuit& circuit) {
    for (const Candidate& candidate : view.answer.candidates) {
        if (candidate.repair.empty()) continue;
        const Circuit::Reach reach = reach_of_repair(circuit, candidate.repair);
        std::string text = shown_minutes(reach.minutes) + " there and back";
        if (!reach.known) text += " (guessed: no [reach] for it)";
        if (!reach.strip.empty()) text += ", by strip-down " + reach.strip;
        view.reach[candidate.repair] = text;
        for (const auto& [place, words] : circuit.together)
            if (place == candidate.repair) view.together[candidate.repair] = words;
    }
}

MatchOptions options_of(const Arguments& arguments) {
    MatchOptions options;
    options.workers = workers_of(arguments);
    options.two_faults = arguments.two_faults;
    if (arguments.top) options.keep = std::max(options.keep, static_cast<std::size_t>(*arguments.top));
    return options;
}

ExitStatus run(const Arguments& arguments, Console& console) {
    auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    if (!add_typed_readings(arguments, console, *input)) return ExitStatus::usage;
    say_cost(arguments, console, *input->circuit, input->job.readings.size());
    MatchView view;
    view.concern = input->job.concern;
    {
        Progress progress(arguments, console, "");
        MatchOptions options = options_of(arguments);
        options.progress = progress.report();
        view.answer = match(console.sweep(), *input->circuit, input->job, options);
    }
    view.next = fmt::format("voltfall next {}", arguments.files.front());
    for (const std::string& read : arguments.reads) view.next += fmt::format(" --read \"{}\"", read);
    add_costs(view, *input->circuit);
    switch (arguments.format) {
        case Format::text:
            console.out << match_text(view, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << match_json(view);
            break;
        case Format::plain:
            console.out << match_plain(view);
            break;
    }
    return none_leads(view.answer) ? ExitStatus::no : ExitStatus::done;
}

}  // namespace

const Command match_command = {
    "match",
    "which faults fit these readings, how well and why, and which reading is doubtful",
    "FILE [--read R]... [--two]",
    "voltfall match weak-air.job.toml\n"
    "voltfall match cab-blower.toml --read \"hi M1.1 to B1- 10.3V\" --read \"lo,m1,m2 blower dead\"",
    declare,
    run,
};

}  // namespace voltfall
