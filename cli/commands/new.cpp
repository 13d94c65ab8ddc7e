// `new`: a circuit to start from, as a starter or from a wire list.
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <string>
#include <vector>

#include "cli/commands/command.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/commands/starters.hpp"
#include "cli/views/new_view.hpp"
#include "netlists/files/whole_file.hpp"
#include "netlists/files/wire_list.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

struct NewArguments {
    std::string name;
    std::string from;
    OutputFile output;
};

void declare(CLI::App& app, NewArguments& arguments) {
    app.add_option("NAME", arguments.name, "the starter circuit; none lists them all")->type_name("");
    app.add_option("--from", arguments.from, "a wire list (from, pin, to, pin, size, colour, length) as CSV")
        ->type_name("LIST.csv");
    declare_output(app, arguments.output, "write the circuit to this file");
}

/// To the file, else to stdout.
ExitStatus hand_over(const std::string& text, const NewArguments& arguments, Console& console) {
    if (!arguments.output.path.empty())
        return write_output(text, arguments.output, console, "voltfall check " + arguments.output.path);
    write_out(console, text);
    return ExitStatus::done;
}

ExitStatus from_list(const NewArguments& arguments, Console& console) {
    const auto text = read_whole_file(arguments.from);
    if (!text) {
        say(console, text.error().message, text.error().suggestion);
        return ExitStatus::file_errors;
    }
    const WireList list = read_wire_list(arguments.from, *text);
    report_problems(console, list.problems, arguments.from);
    if (list.problems.has_errors()) return ExitStatus::file_errors;
    if (list.left_out > 0 && !console.options.quiet) {
        say(console, fmt::format("{} rows were not understood; they stand as comments in the circuit", list.left_out));
    }
    return hand_over(list.text, arguments, console);
}

ExitStatus from_starter(const NewArguments& arguments, Console& console) {
    if (const Starter* starter = find_starter(arguments.name))
        return hand_over(std::string(starter->text), arguments, console);
    std::vector<std::string> names;
    for (const Starter& starter : starters()) names.emplace_back(starter.name);
    const std::string near = did_you_mean(arguments.name, names);
    say(console, fmt::format("no starter is called '{}'", arguments.name),
        near.empty() ? "voltfall new lists them" : near);
    return ExitStatus::usage;
}

ExitStatus run(const NewArguments& arguments, Console& console) {
    if (!arguments.from.empty() && !arguments.name.empty()) {
        say(console, "a starter and a wire list at once", "give NAME or --from, not both");
        return ExitStatus::usage;
    }
    if (!arguments.from.empty()) return from_list(arguments, console);
    if (!arguments.name.empty()) return from_starter(arguments, console);
    if (!arguments.output.path.empty()) {
        say(console, "which circuit is to be written?", "voltfall new lists the starters; then new NAME -o FILE");
        return ExitStatus::usage;
    }
    StarterList list;
    for (const Starter& starter : starters()) list.push_back({std::string(starter.name), std::string(starter.line())});
    print(console, list, new_text, new_json, new_plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command new_command = {
    "new",
    "a circuit to start from: lists the starters, writes one, or makes one of a wire list",
    "[NAME] [--from LIST.csv] [-o FILE]",
    "voltfall new\n"
    "voltfall new module-pwm -o mine.toml\n"
    "voltfall new --from harness.csv -o mine.toml",
    with_arguments(declare, run),
};

}  // namespace voltfall
