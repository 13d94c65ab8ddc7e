// `faults`: what every fault of the catalogue would show.
#include <ostream>

#include "cli/commands/circuit_figures.hpp"
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/symptoms.hpp"
#include "cli/views/faults_view.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "CIRCUIT", "a circuit, or a job that names one");
    declare_states(app, arguments, "a state to look at; may be repeated; all positions by default");
}

ExitStatus run(const Arguments& arguments, Console& console) {
    const auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    const Circuit& circuit = *input->circuit;
    const auto states = typed_states(arguments, console, circuit);
    if (!states) return ExitStatus::usage;
    const auto healthy = healthy_symptom(console.sweep(), circuit, *states);
    if (!healthy) return cannot_compute(console, healthy.error(), {}, "one of those asked for");

    FaultsAnswer answer{circuit.name, *healthy, {}, {}};
    {
        Progress progress(arguments, console, "");
        answer.groups =
            group_by_symptom(console.sweep(), circuit, *states, *healthy, workers_of(arguments), progress.report());
    }
    if (noticed_loads(circuit).empty()) answer.notes.push_back("no load that a driver notices: only fuses tell");
    switch (arguments.format) {
        case Format::text:
            console.out << faults_text(answer, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << faults_json(answer);
            break;
        case Format::plain:
            console.out << faults_plain(answer);
            break;
    }
    return ExitStatus::done;
}

}  // namespace

const Command faults_command = {
    "faults",
    "every fault of the catalogue by what the driver and the fuses would show",
    "CIRCUIT [--state S]...",
    "voltfall faults cab-blower.toml\n"
    "voltfall faults cab-blower.toml --state hi --top 20",
    declare,
    run,
};

}  // namespace voltfall
