// -o FILE: an answer written to a file.
#pragma once

#include <string>

#include "cli/commands/console.hpp"

namespace CLI {
class App;
}

namespace voltfall {

/// Where an answer is written to.
struct OutputFile {
    std::string path;  ///< empty: none
    bool force{false};
};

/// `-o FILE` and `--force`.
void declare_output(CLI::App& app, OutputFile& output, const std::string& what);

/// `--svg FILE` and `--force`, for a command that can draw what it tells.
void declare_picture(CLI::App& app, OutputFile& output, const std::string& what);

/// Writes `text` to the file (`-`: to standard output), whole or not at all; one that is there already only by force.
/// Says what was wrong, or what to do `next` with the file (nothing where that is empty or --quiet is given).
ExitStatus write_output(const std::string& text, const OutputFile& output, const Console& console,
                        const std::string& next = {});

}  // namespace voltfall
