// The parts of `read`.
#pragma once

#include <string>

#include "cli/commands/console.hpp"

namespace voltfall {

/// One reading into the job file; prints what it changed.
ExitStatus read_once(Console& console, const std::string& file, const std::string& phrase);

/// One reading taken after the repair into the job file; prints how far the repair is proved.
ExitStatus read_after(Console& console, const std::string& file, const std::string& phrase);

/// What was mended into the job file; prints what proves it.
ExitStatus read_repaired(Console& console, const std::string& file, const std::string& phrase);

/// Proposes a test, takes what was read, keeps it in the job file, and goes on until the input ends.
ExitStatus read_in_turn(Console& console, const std::string& file);

/// Says why a change to a job file did not take place.
struct StoredReading;
ExitStatus say_not_stored(const Console& console, const StoredReading& stored, const std::string& file);

}  // namespace voltfall
