// A shared library that is opened when it is first needed: what is not asked for costs a start of the program nothing,
// and a machine without it can do everything else.
#pragma once

#include <stdexcept>
#include <string>

namespace voltfall {

/// A library, or a function of one, that this machine has not.
class MissingLibrary : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// Stays open until the program ends.
class SharedLibrary {
public:
    /// `file` is the name with the interface's version, "libm.so.6". What is not there, or lacks a function, is a
    /// MissingLibrary: "`what` is not there: ", with the loader's reason.
    SharedLibrary(const char* file, std::string what);

    /// Finds a function, or an object, by its name.
    template <class Thing>
    void find(const char* name, Thing*& thing) const {
        thing = reinterpret_cast<Thing*>(address_of(name));
    }

private:
    void* address_of(const char* name) const;

    void* handle_;
    std::string what_;
};

}  // namespace voltfall
