#include <malloc.h>

#include <csignal>
#include <iostream>

#include "cli/commands/program.hpp"
#include "engine/solve/jobs.hpp"
#include "engine/solve/ngspice_session.hpp"

namespace {

/// Keeps freed memory instead of giving it back to the system: dictionaries of faults are made and dropped by the thousand.
void keep_freed_memory() {
    constexpr int keep_bytes = 1 << 30;
    constexpr int grow_bytes = 4 << 20;
    mallopt(M_TRIM_THRESHOLD, keep_bytes);
    mallopt(M_TOP_PAD, grow_bytes);
}

/// The first interrupt lets the work end by itself (status 130), a second one ends the process.
void listen_for_interrupts() {
    struct sigaction action {};
    action.sa_handler = [](int) { voltfall::interrupt_requested() = true; };
    action.sa_flags = SA_RESETHAND;
    sigaction(SIGINT, &action, nullptr);
}

}  // namespace

int main(int argc, char** argv) {
    keep_freed_memory();
    listen_for_interrupts();
    const int first = argc > 0 ? 1 : 0;
    return voltfall::run({argv + first, argv + argc}, std::cin, std::cout, std::cerr, voltfall::Terminal::of_process(),
                         []() -> voltfall::NgspiceSession& { return voltfall::NgspiceSession::instance(); });
}
