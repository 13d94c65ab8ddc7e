// A command is one row of the table in command.cpp: its word, what it answers, its examples, its options and its work.
// One file a command; its arguments are a struct of that file.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <string_view>

#include "cli/commands/console.hpp"

namespace CLI {
class App;
}

namespace voltfall {

/// What a command does once its arguments are read.
using CommandWork = std::function<ExitStatus(Console& console)>;

struct Command {
    std::string_view word;
    std::string_view summary;   ///< one line: what it answers
    std::string_view usage;     ///< "CIRCUIT [--fault F]..."
    std::string_view examples;  ///< lines, first in its help
    /// Declares its own options and files (the global ones are declared for every command); the work reads what the
    /// parser has filled in.
    std::function<CommandWork(CLI::App& app)> declare;
};

/// `Command::declare` for a command whose arguments are one struct.
template <class Arguments>
std::function<CommandWork(CLI::App&)> with_arguments(void (*declare)(CLI::App& app, Arguments& arguments),
                                                     ExitStatus (*run)(const Arguments& arguments, Console& console)) {
    return [=](CLI::App& app) -> CommandWork {
        const auto arguments = std::make_shared<Arguments>();
        declare(app, *arguments);
        return [=](Console& console) { return run(*arguments, console); };
    };
}

/// All commands, in the order of the help.
std::span<const Command* const> commands();

}  // namespace voltfall
