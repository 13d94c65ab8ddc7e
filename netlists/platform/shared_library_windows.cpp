#include <fmt/format.h>

#include <utility>

#include "netlists/platform/shared_library.hpp"
#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

namespace {

MissingLibrary missing(const std::string& what, const char* name) {
    return MissingLibrary(fmt::format("{} is not there: {} (error {})", what, name, ::GetLastError()));
}

}  // namespace

// From the program's own folder and the system's: not from where the user happens to be.
SharedLibrary::SharedLibrary(const char* file, std::string what)
    : handle_(::LoadLibraryExW(wide(file).c_str(), nullptr,
                               LOAD_LIBRARY_SEARCH_APPLICATION_DIR | LOAD_LIBRARY_SEARCH_SYSTEM32)),
      what_(std::move(what)) {
    if (!handle_) throw missing(what_, file);
}

void* SharedLibrary::address_of(const char* name) const {
    void* const address = reinterpret_cast<void*>(::GetProcAddress(static_cast<HMODULE>(handle_), name));
    if (!address) throw missing(what_, name);
    return address;
}

}  // namespace voltfall
