// Options that several commands share, declared in one way. The parser's header stays in this room.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "cli/commands/arguments.hpp"

namespace voltfall {

/// --format, --color, --top, --seed, --workers, --quiet.
void declare_global_options(CLI::App& app, Arguments& arguments);

/// The FILE, named in the help as given ("CIRCUIT").
void declare_file(CLI::App& app, Arguments& arguments, const std::string& name, const std::string& what);

/// An option that may be given again and takes one value each time, never the file behind it.
CLI::Option* declare_repeated(CLI::App& app, const std::string& name, std::vector<std::string>& values,
                              const std::string& what, const std::string& value_name);

void declare_faults(CLI::App& app, Arguments& arguments);
void declare_states(CLI::App& app, Arguments& arguments, const std::string& what);
void declare_reads(CLI::App& app, Arguments& arguments);
void declare_tools(CLI::App& app, Arguments& arguments);

/// Checks that say what was expected and suggest the nearest word.
CLI::Validator one_of(std::vector<std::string> words);
CLI::Validator whole_number(long long low, long long high);
/// A time with its unit, `10min`, between two numbers of seconds.
CLI::Validator duration(double low, double high);

}  // namespace voltfall
