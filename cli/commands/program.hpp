// The command line as a library: what `main` calls and what tests call.
#pragma once

#include <functional>
#include <iosfwd>
#include <string>
#include <vector>

namespace voltfall {

class TransientSimulator;

/// Gives the process's simulator of record, starting it at the first call. May throw std::runtime_error.
using StartSimulator = std::function<TransientSimulator&()>;

/// What is known of where the streams go.
struct Terminal {
    bool out_is_terminal{false};
    bool err_is_terminal{false};
    int columns{80};          ///< width of the page
    bool wants_colour{true};  ///< false: NO_COLOR is set and not empty, or TERM is dumb
    bool in_is_terminal{false};
    std::string settings{};  ///< path of the person's own settings; empty where there are none

    /// Of this process: width from the terminal, else COLUMNS, else 80.
    static Terminal of_process();
};

/// Runs one command line (without the program's name). Returns the exit status; never throws.
int run(std::vector<std::string> args, std::istream& in, std::ostream& out, std::ostream& err, Terminal terminal,
        const StartSimulator& start);

}  // namespace voltfall
