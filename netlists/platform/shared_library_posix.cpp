#include "netlists/platform/shared_library.hpp"

#include <dlfcn.h>

#include <utility>

namespace voltfall {

namespace {

MissingLibrary missing(const std::string& what, const char* name) {
    const char* const reason = dlerror();
    return MissingLibrary(what + " is not there: " + (reason ? reason : name));
}

}  // namespace

// Functions are bound as they are called: of the thousands in such a library few are.
SharedLibrary::SharedLibrary(const char* file, std::string what)
    : handle_(dlopen(file, RTLD_LAZY | RTLD_LOCAL)), what_(std::move(what)) {
    if (!handle_) throw missing(what_, file);
}

void* SharedLibrary::address_of(const char* name) const {
    void* const address = dlsym(handle_, name);
    if (!address) throw missing(what_, name);
    return address;
}

}  // namespace voltfall
