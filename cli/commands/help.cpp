// `help`: what may be typed.
#include <fmt/format.h>

#include "cli/commands/command.hpp"
#include "cli/commands/help_text.hpp"
#include "cli/commands/help_topics.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

struct HelpArguments {
    std::string topic;
    std::string file;
};

void declare(CLI::App& app, HelpArguments& arguments) {
    app.add_option("TOPIC", arguments.topic, "a command, a kind of part, or parts, readings, states, faults, files")
        ->type_name("");
    app.add_option("CIRCUIT", arguments.file, "a circuit or job whose names stand in the examples")->type_name("");
}

ExitStatus run(const HelpArguments& arguments, Console& console) {
    const PageStyle style = answer_style(console);
    if (arguments.topic.empty()) {
        write_out(console, program_help(style.width));
        return ExitStatus::done;
    }
    std::vector<std::string> topics = help_topics();
    const bool is_topic = std::find(topics.begin(), topics.end(), arguments.topic) != topics.end();
    if (const Kind* kind = find_kind(arguments.topic); kind && !is_topic) {
        write_out(console, kind_help(*kind, style));
        return ExitStatus::done;
    }
    // A topic that a command is called like comes first: the command has its own --help.
    for (const Command* command : commands()) {
        if (is_topic || command->word != arguments.topic) continue;
        write_out(console, command_help(*command, style.width));
        return ExitStatus::done;
    }
    if (!is_topic) {
        for (const Command* command : commands()) topics.emplace_back(command->word);
        const std::string hint = did_you_mean(arguments.topic, topics);
        say(console, fmt::format("there is no help on '{}'", arguments.topic),
            hint.empty() ? "help on a command, a kind of part, or on " + joined(help_topics()) : hint);
        return ExitStatus::usage;
    }
    if (arguments.file.empty()) {
        write_out(console, topic_help(arguments.topic, nullptr, style));
        return ExitStatus::done;
    }
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    write_out(console, topic_help(arguments.topic, input->circuit.get(), style));
    return ExitStatus::done;
}

}  // namespace

extern const Command help_command = {
    "help",
    "what may be typed: parts, readings, states, faults and files, with the names of your circuit",
    "[TOPIC] [CIRCUIT]",
    "voltfall help readings\n"
    "voltfall help states cab-blower.toml\n"
    "voltfall help relay",
    with_arguments<HelpArguments>(declare, run),
};

}  // namespace voltfall
