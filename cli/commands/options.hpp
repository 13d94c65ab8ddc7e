// Options that several commands share, declared in one way. The parser's header stays in this room.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "cli/commands/global_options.hpp"

namespace voltfall {

/// --format, --color, --top, --seed, --workers, --quiet.
void declare_global_options(CLI::App& app, GlobalOptions& options);

/// The FILE, named in the help as given ("CIRCUIT").
void declare_file(CLI::App& app, std::string& file, const std::string& name, const std::string& what);
/// FILE of a command that works on a circuit, and of one that works on readings.
void declare_circuit(CLI::App& app, std::string& file);
void declare_job(CLI::App& app, std::string& file);

/// An option that may be given again and takes one value each time, never the file behind it.
CLI::Option* declare_repeated(CLI::App& app, const std::string& name, std::vector<std::string>& values,
                              const std::string& what, const std::string& value_name);

void declare_faults(CLI::App& app, std::vector<std::string>& faults);
void declare_states(CLI::App& app, std::vector<std::string>& states, const std::string& what);

/// Readings beside those of the file.
struct TypedReadings {
    std::vector<std::string> phrases;  ///< --read
    std::string from;                  ///< --read-from: a file of them, `-` for standard input; empty: none
};
void declare_reads(CLI::App& app, TypedReadings& reads);
void declare_tools(CLI::App& app, std::vector<std::string>& tools);

/// Checks that say what was expected and suggest the nearest word.
CLI::Validator one_of(std::vector<std::string> words);
CLI::Validator whole_number(long long low, long long high);

/// `--time T`: a time with its unit, "10min", from a millisecond to a week.
void declare_time(CLI::App& app, std::optional<double>& seconds);
/// `--start [SECONDS]`: 3 s when no number stands there, 0.05 to 60 s.
void declare_start(CLI::App& app, std::optional<double>& seconds);

}  // namespace voltfall
