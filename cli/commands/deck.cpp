// `deck`: the SPICE deck of one case.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/views/deck_view.hpp"

namespace voltfall {

namespace {

struct DeckArguments {
    std::string file;
    std::vector<std::string> faults;
    std::vector<std::string> states;
    DeckMoment moment{DeckMoment::faulted};
    OutputFile output;
};

void declare(CLI::App& app, DeckArguments& arguments) {
    declare_circuit(app, arguments.file);
    declare_faults(app, arguments.faults);
    declare_states(app, arguments.states, "the state, one; the last position by default");
    app.add_option_function<std::string>(
           "--at",
           [&arguments](const std::string& word) {
               arguments.moment = word == "after" ? DeckMoment::after : DeckMoment::faulted;
           },
           "faulted (default): before anything opens; after: when it is over")
        ->check(one_of({"faulted", "after"}))
        ->type_name("WHEN");
    declare_output(app, arguments.output, "the file to write; - or none is stdout");
}

ExitStatus run(const DeckArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    const Circuit& circuit = *input->circuit;
    const auto faults = typed_faults(arguments.faults, console, circuit);
    const auto state = typed_state(arguments.states, console, circuit);
    if (!faults || !state) return ExitStatus::usage;
    auto answer = case_deck(console.of_record(), circuit, *state, *faults, arguments.moment);
    if (!answer) return cannot_compute(console, answer.error(), *faults, circuit, state->label);
    if (const std::string& path = arguments.output.path; !path.empty() && path != "-") {
        answer->file = path;
        const ExitStatus written = write_output(answer->deck, arguments.output, console, "ngspice -b " + path);
        if (written != ExitStatus::done) return written;
    }
    print(console, *answer, deck_text, deck_json, deck_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command deck_command = {
    "deck",
    "the SPICE deck of one case; ngspice -b solves it to the same numbers",
    "CIRCUIT [--fault F]... [--state S] [--at faulted|after] [-o FILE]",
    "voltfall deck cab-blower.toml --state hi -o hi.cir\n"
    "voltfall deck cab-blower.toml --fault \"542 chafe 20mohm at 60%\" --at after -o after.cir",
    with_arguments<DeckArguments>(declare, run),
};

}  // namespace voltfall
