// `new`: a circuit to start from, as a starter or from a wire list; or a job begun from what the customer says.
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <istream>
#include <iterator>
#include <string>
#include <vector>

#include "cli/commands/command.hpp"
#include "cli/commands/new_job.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/commands/starters.hpp"
#include "cli/views/new_view.hpp"
#include "netlists/files/typed_file.hpp"
#include "netlists/files/whole_file.hpp"
#include "netlists/files/wire_list.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

struct NewArguments {
    std::string name;
    std::string from;
    NewJob job;
    OutputFile output;
};

void declare(CLI::App& app, NewArguments& arguments) {
    app.add_option("NAME", arguments.name, "the starter circuit; none lists them all")->type_name("");
    app.add_option("--from", arguments.from,
                   "a wire list (from, pin, to, pin, size, colour, length) as CSV; - is standard input")
        ->type_name("LIST.csv");
    app.add_option("--job", arguments.job.circuit, "begin a job on this circuit")->type_name("CIRCUIT");
    app.add_option("--concern", arguments.job.concern, "of the job: what the customer says; asked for if not given")
        ->type_name("WORDS");
    app.add_option("--number", arguments.job.number, "of the job: number of the order")->type_name("TEXT");
    declare_output(app, arguments.output, "write to this file");
}

/// To the file, else to stdout.
ExitStatus hand_over(const std::string& text, const NewArguments& arguments, Console& console) {
    if (!arguments.output.path.empty())
        return write_output(text, arguments.output, console, "voltfall check " + arguments.output.path);
    write_out(console, text);
    return ExitStatus::done;
}

ExitStatus from_list(const NewArguments& arguments, Console& console) {
    std::string text;
    if (arguments.from == standard_input_name) {
        text.assign(std::istreambuf_iterator<char>(console.in), {});
    } else if (auto read = read_whole_file(arguments.from)) {
        text = *std::move(read);
    } else {
        say(console, read.error().message, read.error().suggestion);
        return ExitStatus::file_errors;
    }
    const WireList list = read_wire_list(arguments.from, text);
    report_problems(console, list.problems, arguments.from);
    if (list.text.empty()) return ExitStatus::file_errors;
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
    const int asked = !arguments.from.empty() + !arguments.name.empty() + !arguments.job.circuit.empty();
    if (asked > 1) {
        say(console, "a starter, a wire list and a job at once", "give one of NAME, --from and --job");
        return ExitStatus::usage;
    }
    if (arguments.job.circuit.empty() && !(arguments.job.concern.empty() && arguments.job.number.empty())) {
        say(console, "--concern and --number are of a job", "add --job CIRCUIT");
        return ExitStatus::usage;
    }
    if (!arguments.job.circuit.empty()) {
        NewJob job = arguments.job;
        job.output = arguments.output;
        return begin_job(console, job);
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
    "begins a file: a starter circuit, one made of a wire list, or a job",
    "[NAME] [--from LIST.csv] [--job CIRCUIT] [-o FILE]",
    "voltfall new\n"
    "voltfall new module-pwm -o mine.toml\n"
    "voltfall new --from harness.csv -o mine.toml\n"
    "voltfall new --job mine.toml --concern \"weak air\" -o weak.job.toml",
    with_arguments<NewArguments>(declare, run),
};

}  // namespace voltfall
