// A command is one row: its word, what it answers, its examples, its options and its work. One file a command.
#pragma once

#include <span>
#include <string_view>

#include "cli/commands/arguments.hpp"
#include "cli/commands/console.hpp"

namespace CLI {
class App;
}

namespace voltfall {

struct Command {
    std::string_view word;
    std::string_view summary;   ///< one line: what it answers
    std::string_view usage;     ///< "CIRCUIT [--fault F]..."
    std::string_view examples;  ///< lines, first in its help
    /// Declares its own options and files; the global ones are declared for every command.
    void (*declare)(CLI::App& app, Arguments& arguments);
    ExitStatus (*run)(const Arguments& arguments, Console& console);
};

extern const Command check_command;
extern const Command show_command;
extern const Command whatif_command;
extern const Command faults_command;
extern const Command match_command;
extern const Command next_command;
extern const Command plan_command;
extern const Command protect_command;
extern const Command teach_command;
extern const Command deck_command;

/// All commands, in the order of the help.
std::span<const Command* const> commands();

}  // namespace voltfall
