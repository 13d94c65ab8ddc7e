// Help texts, examples first, laid out for the width of the page.
#pragma once

#include <string>

#include "cli/commands/command.hpp"

namespace CLI {
class Option;
}

namespace voltfall {

class TransientSimulator;

/// One sentence of what the program does.
std::string_view program_purpose();
/// What the exit statuses mean.
std::string_view exit_statuses();
/// "-o, --output FILE".
std::string option_words(const CLI::Option& option);

/// What `voltfall` alone prints.
std::string short_help(int width);
/// What `voltfall --help` prints.
std::string program_help(int width);
std::string command_help(const Command& command, int width);

/// Version of the program and of the ngspice library that it solves with.
std::string version_text(const TransientSimulator& simulator);

}  // namespace voltfall
