// `faults`: what every fault of the catalogue would show.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/faults_view.hpp"

namespace voltfall {

namespace {

struct FaultsArguments {
    std::string file;
    std::vector<std::string> states;
};

void declare(CLI::App& app, FaultsArguments& arguments) {
    declare_circuit(app, arguments.file);
    declare_states(app, arguments.states, "a state to look at; may be repeated; all positions by default");
}

ExitStatus run(const FaultsArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    const auto states = typed_states(arguments.states, console, *input->circuit);
    if (!states) return ExitStatus::usage;
    tl::expected<FaultsAnswer, SolveFailure> answer;
    {
        Progress progress(console, "");
        answer =
            symptoms_of_catalogue(console.sweep(), *input->circuit, *states, workers_of(console), progress.report());
    }
    if (!answer) return cannot_compute(console, answer.error());
    print(console, *answer, faults_text, faults_json, faults_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command faults_command = {
    "faults",
    "every fault of the catalogue by what the driver and the fuses would show",
    "CIRCUIT [--state S]...",
    "voltfall faults cab-blower.toml\n"
    "voltfall faults cab-blower.toml --state hi --top 20",
    with_arguments<FaultsArguments>(declare, run),
};

}  // namespace voltfall
