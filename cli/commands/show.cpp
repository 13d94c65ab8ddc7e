// `show`: what feeds what.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/commands/pictures.hpp"
#include "cli/views/show_view.hpp"

namespace voltfall {

namespace {

struct ShowArguments {
    std::string file;
    OutputFile picture;
    bool defaults{false};
};

void declare(CLI::App& app, ShowArguments& arguments) {
    declare_circuit(app, arguments.file);
    app.add_flag("--defaults", arguments.defaults, "the values that the file does not say, with their sources");
    declare_picture(app, arguments.picture, "draw the wiring of the sound circuit, in its hardest position, as SVG");
}

ExitStatus run(const ShowArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (!arguments.picture.path.empty()) {
        const auto pictures = sound_wiring(console, *input->circuit);
        if (!pictures) return cannot_compute(console, pictures.error());
        return write_output(file_of(*pictures), arguments.picture, console);
    }
    print(console, overview_of(console.sweep(), *input->circuit), arguments.defaults ? show_defaults_text : show_text,
          show_json, show_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command show_command = {
    "show",
    "what feeds what: every load's way from battery to ground in each position, and what the positions share",
    "CIRCUIT [--defaults] [--svg FILE]",
    "voltfall show cab-blower.toml\n"
    "voltfall show cab-blower.toml --defaults\n"
    "voltfall show cab-blower.toml --svg wiring.svg",
    with_arguments<ShowArguments>(declare, run),
};

}  // namespace voltfall
