#include <fcntl.h>
#include <malloc.h>
#include <unistd.h>

#include <iostream>

#include "cli/commands/program.hpp"
#include "engine/ngspice/ngspice_session.hpp"

namespace {

/// Keeps freed memory instead of giving it back to the system: dictionaries of faults are made and dropped by the
/// thousand.
void keep_freed_memory() {
    constexpr int keep_bytes = 1 << 30;
    constexpr int grow_bytes = 4 << 20;
    mallopt(M_TRIM_THRESHOLD, keep_bytes);
    mallopt(M_TOP_PAD, grow_bytes);
}

/// A standard stream that the caller has closed: else the next file that is opened, a job perhaps, takes its number and
/// gets what is meant for the stream. Writing to what stands there now fails, reading finds the end.
void fill_closed_streams() {
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        if (fcntl(stream, F_GETFD) < 0 && open("/dev/null", O_RDONLY) != stream) _exit(4);
}

}  // namespace

int main(int argc, char** argv) {
    fill_closed_streams();
    keep_freed_memory();
    const int first = argc > 0 ? 1 : 0;
    return voltfall::run({argv + first, argv + argc}, std::cin, std::cout, std::cerr, voltfall::Terminal::of_process(),
                         []() -> voltfall::TransientSimulator& { return voltfall::NgspiceSession::instance(); });
}
