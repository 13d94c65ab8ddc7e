// Help texts, examples first, laid out for the width of the page.
#pragma once

#include <string>

#include "cli/commands/command.hpp"

namespace voltfall {

class TransientSimulator;

/// What `voltfall` alone prints.
std::string short_help(int width);
/// What `voltfall --help` prints.
std::string program_help(int width);
std::string command_help(const Command& command, int width);

/// Version of the program and of the ngspice library that it solves with.
std::string version_text(const TransientSimulator& simulator);

}  // namespace voltfall
