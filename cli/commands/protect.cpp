// `protect`: does every fuse open before its wires are harmed, and what burns while it holds?
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/commands/pictures.hpp"
#include "cli/views/protect_view.hpp"

namespace voltfall {

namespace {

struct ProtectArguments {
    std::string file;
    std::vector<std::string> states;
    OutputFile picture;
};

void declare(CLI::App& app, ProtectArguments& arguments) {
    declare_circuit(app, arguments.file);
    declare_states(app, arguments.states, "a state to look at; may be repeated; all positions by default");
    declare_picture(app, arguments.picture, "draw every fuse's time and current beside its wires', as SVG");
}

ExitStatus run(const ProtectArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    const auto states = typed_states(arguments.states, console, *input->circuit);
    if (!states) return ExitStatus::usage;
    if (!arguments.picture.path.empty())
        return write_output(file_of(fuse_pictures(console, *input->circuit)), arguments.picture, console);
    const auto answer = protection_answer(console.sweep(), *input->circuit, *states, answer_style(console).top);
    if (!answer) return cannot_compute(console, answer.error());
    print(console, *answer, protect_text, protect_json, protect_plain);
    return answer->ok() ? ExitStatus::done : ExitStatus::no;
}

}  // namespace

extern const Command protect_command = {
    "protect",
    "every fuse against its wires and loads: does it open first, and what burns while it holds",
    "CIRCUIT [--state S]... [--svg FILE]",
    "voltfall protect cab-blower.toml\n"
    "voltfall protect cab-blower.toml --state mh --top 20\n"
    "voltfall protect cab-blower.toml --svg fuses.svg",
    with_arguments<ProtectArguments>(declare, run),
};

}  // namespace voltfall
