#include "engine/ngspice/ngspice_library.hpp"

#include "netlists/platform/shared_library.hpp"

namespace voltfall {

namespace {

NgspiceLibrary open_library() {
    const SharedLibrary library(LIBRARY_FILE, "the circuit simulator");
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
