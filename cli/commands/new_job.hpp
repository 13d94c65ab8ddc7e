// `new --job CIRCUIT`: a job begun from what the customer says.
#pragma once

#include <string>

#include "cli/commands/console.hpp"
#include "cli/commands/output_file.hpp"

namespace voltfall {

struct NewJob {
    std::string circuit;  ///< file
    std::string concern;  ///< in the customer's words; empty: asked for
    std::string number;   ///< of the order; may be empty
    OutputFile output;    ///< empty: standard output
};

/// Writes the job's file. Says what was wrong with the circuit, or what to do next.
ExitStatus begin_job(Console& console, const NewJob& wanted);

}  // namespace voltfall
