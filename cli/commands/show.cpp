// `show`: what feeds what.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/show_view.hpp"

namespace voltfall {

namespace {

struct ShowArguments {
    std::string file;
};

void declare(CLI::App& app, ShowArguments& arguments) {
    declare_circuit(app, arguments.file);
}

ExitStatus run(const ShowArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    print(console, overview_of(*input->circuit), show_text, show_json, show_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command show_command = {
    "show",
    "what feeds what: every load's way from battery to ground in each position, and what the positions share",
    "CIRCUIT",
    "voltfall show cab-blower.toml\n"
    "voltfall show cab-blower.toml --format json",
    with_arguments(declare, run),
};

}  // namespace voltfall
