// `new`: begins a file.
#include "cli/commands/command.hpp"
#include "cli/commands/new_job.hpp"
#include "cli/commands/options.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, NewJob& arguments) {
    app.add_option("--job", arguments.circuit, "begin a job on this circuit")->type_name("CIRCUIT")->required();
    app.add_option("--concern", arguments.concern, "what the customer says; asked for where it is not given")
        ->type_name("WORDS");
    app.add_option("--number", arguments.number, "number of the order")->type_name("TEXT");
    declare_output(app, arguments.output, "the file to write; standard output where none is named");
}

ExitStatus run(const NewJob& arguments, Console& console) {
    return begin_job(console, arguments);
}

}  // namespace

extern const Command new_command = {
    "new",
    "begins a job from what the customer says",
    "--job CIRCUIT [--concern WORDS] [--number TEXT] [-o FILE]",
    "voltfall new --job cab-blower.toml --concern \"weak air on every speed\" -o weak.job.toml\n"
    "voltfall new --job cab-blower.toml -o weak.job.toml",
    with_arguments(declare, run),
};

}  // namespace voltfall
