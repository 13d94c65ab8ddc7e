#include <iostream>

#include "cli/commands/program.hpp"
#include "engine/solve/ngspice_session.hpp"

int main(int argc, char** argv) {
    const int first = argc > 0 ? 1 : 0;
    return voltfall::run({argv + first, argv + argc}, std::cin, std::cout, std::cerr, voltfall::Terminal::of_process(),
                         []() -> voltfall::NgspiceSession& { return voltfall::NgspiceSession::instance(); });
}
