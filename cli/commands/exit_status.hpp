// What the process says when it ends.
#pragma once

namespace voltfall {

enum class ExitStatus {
    done = 0,           ///< done, or the answer is yes
    no = 1,             ///< the answer is no: no fault fits
    usage = 2,          ///< wrong command line
    file_errors = 3,    ///< a file has errors
    cannot = 4,         ///< it cannot be computed, or the environment is broken
    bug = 70,           ///< a bug of ours
    interrupted = 130,  ///< Ctrl-C; the shell's number for a process ended by it
};

}  // namespace voltfall
