// `whatif`: with these faults, what works, what is measured, what burns.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/commands/pictures.hpp"
#include "cli/views/whatif_view.hpp"

namespace voltfall {

namespace {

struct WhatifArguments {
    std::string file;
    std::vector<std::string> faults;
    std::vector<std::string> states;
    std::vector<std::string> points;
    std::optional<double> seconds;
    std::optional<double> start_seconds;
    OutputFile picture;
};

void declare(CLI::App& app, WhatifArguments& arguments) {
    declare_circuit(app, arguments.file);
    declare_faults(app, arguments.faults);
    declare_states(app, arguments.states,
                   "a state, \"hi\" or \"off, unplug C303\"; may be repeated; all positions by default");
    declare_time(app, arguments.seconds);
    declare_repeated(app, "--points", arguments.points, "points and wires to show, \"M1.1,C101.4,542\"", "P,..");
    declare_start(app, arguments.start_seconds);
    declare_picture(app, arguments.picture, "draw wiring, falling volts and speeds of the last state, as SVG");
}

ExitStatus run(const WhatifArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    const Circuit& circuit = *input->circuit;
    const auto faults = typed_faults(arguments.faults, console, circuit);
    const auto states = typed_states(arguments.states, console, circuit);
    const auto points = typed_points(arguments.points, console, circuit);
    if (!faults || !states || !points) return ExitStatus::usage;
    if (!arguments.picture.path.empty()) {
        const auto pictures = case_pictures(console, circuit, *faults, states->back());
        if (!pictures) return cannot_compute(console, pictures.error(), *faults, circuit, states->back().label);
        return write_output(file_of(*pictures), arguments.picture, console);
    }
    const auto answer =
        whatif(console.of_record(), circuit, {*faults, *states, *points, arguments.seconds, arguments.start_seconds});
    if (!answer) return cannot_compute(console, answer.error().failure, *faults, circuit, answer.error().state);
    print(console, *answer, whatif_text, whatif_json, whatif_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command whatif_command = {
    "whatif",
    "with these faults: what works, volts and amps at the points, what the fuses do, beside the healthy circuit",
    "CIRCUIT [--fault F]... [--state S]... [--time T] [--points P,..] [--start [SECONDS]] [--svg FILE]",
    "voltfall whatif cab-blower.toml --fault \"R1 limiter open\"\n"
    "voltfall whatif cab-blower.toml --fault \"542 chafe 20mohm at 60%\" --state hi\n"
    "voltfall whatif cab-blower.toml --fault \"M1 seized\" --state mh --time 10min\n"
    "voltfall whatif cab-blower.toml --state \"hi, key run\" --points M1.1,M1.2,542\n"
    "voltfall whatif cab-blower.toml --state hi --start 5\n"
    "voltfall whatif cab-blower.toml --fault \"C101.4 resistance 0.3ohm\" --state hi --svg weak.svg",
    with_arguments<WhatifArguments>(declare, run),
};

}  // namespace voltfall
