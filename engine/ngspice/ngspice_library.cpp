#include "engine/ngspice/ngspice_library.hpp"

#include "engine/ngspice/shared_library.hpp"

namespace voltfall {

namespace {

NgspiceLibrary open_library() {
    // As the package names it: the version of the interface, not of the program.
    const SharedLibrary library("libngspice.so.0", "the circuit simulator");
    NgspiceLibrary found;
    library.find("ngSpice_Init", found.init);
    library.find("ngSpice_Circ", found.circuit);
    library.find("ngSpice_Command", found.command);
    return found;
}

}  // namespace

const NgspiceLibrary& ngspice_library() {
    static const NgspiceLibrary library = open_library();
    return library;
}

}  // namespace voltfall
