// -o FILE: an answer written to a file.
#pragma once

#include <string>

#include "cli/commands/arguments.hpp"
#include "cli/commands/console.hpp"
#include "cli/commands/exit_status.hpp"

namespace voltfall {

/// Writes `text` to `arguments.output`; a file that is there already only with --force. Says what was wrong, or what to
/// do `next` with the file (nothing where that is empty or --quiet is given).
ExitStatus write_output(const std::string& text, const Arguments& arguments, const Console& console,
                        const std::string& next = {});

}  // namespace voltfall
