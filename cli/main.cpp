#include <iostream>

#include "cli/commands/program.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "netlists/platform/process.hpp"
#include "netlists/platform/terminal.hpp"

int main(int argc, char** argv) {
    constexpr int status_cannot = 4;
    voltfall::prepare_streams(status_cannot);
    // Dictionaries of faults are made and dropped by the thousand.
    voltfall::keep_freed_memory();
    return voltfall::run(voltfall::command_words(argc, argv), std::cin, std::cout, std::cerr,
                         voltfall::Terminal::of_process(),
                         []() -> voltfall::TransientSimulator& { return voltfall::NgspiceSession::instance(); });
}
