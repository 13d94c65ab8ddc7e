// The ngspice library, opened when it is first needed: a machine without it can still read files, and every command
// that needs a simulator says what is missing.
#pragma once

#include <ngspice/sharedspice.h>

namespace voltfall {

/// The functions of the library that are used.
struct NgspiceLibrary {
    decltype(&ngSpice_Init) init{};
    decltype(&ngSpice_Circ) circuit{};
    decltype(&ngSpice_Command) command{};
};

/// Opens the library at the first call; it is never closed. Throws std::runtime_error, with the loader's reason, where
/// it is not there or lacks a function.
const NgspiceLibrary& ngspice_library();

}  // namespace voltfall
