// `protect`: does every fuse open before its wires are harmed, and what burns while it holds?
#include <algorithm>
#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/protect_view.hpp"
#include "engine/diagnosis/priors.hpp"
#include "engine/heat/heat_values.hpp"
#include "engine/solve/ngspice_session.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "CIRCUIT", "a circuit, or a job that names one");
    declare_states(app, arguments, "a state to look at; may be repeated; all positions by default");
}

/// What fails most often comes first.
void put_likely_first(const Circuit& circuit, std::vector<ProtectionGap>& gaps) {
    const Priors priors = priors_of(circuit, Job{});
    std::stable_sort(gaps.begin(), gaps.end(), [&](const ProtectionGap& a, const ProtectionGap& b) {
        return priors.modes[a.mode] > priors.modes[b.mode];
    });
}

ExitStatus run(const Arguments& arguments, Console& console) {
    const auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    const auto states = typed_states(arguments, console, *input->circuit);
    if (!states) return ExitStatus::usage;
    Simulator& simulator = console.sweep();
    const HeatModel heat(simulator, *input->circuit);
    const ProtectionResult protection = judge_protection(simulator, heat, *states);
    if (!protection) return cannot_compute(console, protection.error(), {}, "one of those asked for");
    ProtectAnswer answer{input->circuit->name, *protection, assumed_heat(*input->circuit)};
    put_likely_first(*input->circuit, answer.protection.gaps);
    confirm_gaps(simulator, *input->circuit, *states, answer.protection.gaps, answer_style(arguments, console).top);
    switch (arguments.format) {
        case Format::text:
            console.out << protect_text(answer, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << protect_json(answer);
            break;
        case Format::plain:
            console.out << protect_plain(answer);
            break;
    }
    return answer.ok() ? ExitStatus::done : ExitStatus::no;
}

}  // namespace

const Command protect_command = {
    "protect",
    "every fuse against its wires and loads: does it open first, and what burns while it holds",
    "CIRCUIT [--state S]...",
    "voltfall protect cab-blower.toml\n"
    "voltfall protect cab-blower.toml --state m2 --top 20",
    declare,
    run,
};

}  // namespace voltfall
