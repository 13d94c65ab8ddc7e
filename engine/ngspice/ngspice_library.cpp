#include "engine/ngspice/ngspice_library.hpp"

#include <dlfcn.h>

#include <stdexcept>
#include <string>

namespace voltfall {

namespace {

/// As the package names it: the version of the interface, not of the program.
constexpr const char* library_name = "libngspice.so.0";

std::runtime_error missing() {
    const char* const reason = dlerror();
    return std::runtime_error(std::string("the circuit simulator is not there: ") + (reason ? reason : library_name));
}

template <class Function>
void find(void* library, const char* name, Function*& function) {
    function = reinterpret_cast<Function*>(dlsym(library, name));
    if (!function) throw missing();
}

NgspiceLibrary open_library() {
    void* const library = dlopen(library_name, RTLD_NOW | RTLD_LOCAL);
    if (!library) throw missing();
    NgspiceLibrary found;
    find(library, "ngSpice_Init", found.init);
    find(library, "ngSpice_Circ", found.circuit);
    find(library, "ngSpice_Command", found.command);
    return found;
}

}  // namespace

const NgspiceLibrary& ngspice_library() {
    static const NgspiceLibrary library = open_library();
    return library;
}

}  // namespace voltfall
