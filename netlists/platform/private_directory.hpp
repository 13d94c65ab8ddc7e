// A private folder in which something starts, so that no start-up file of the user is run.
#pragma once

#include <memory>
#include <span>
#include <string>

namespace voltfall {

/// While it lives, the working directory is an own temporary one with the named files, all empty, and a variable of the
/// environment points at it. Afterwards all is as before and the folder is gone; where the system can do that also when
/// the process is killed meanwhile. Throws std::runtime_error, its text begun with `refusal`, where the folder or one
/// of its files cannot be made: the user's own files would be run instead.
class PrivateDirectory {
public:
    struct Wanted {
        std::span<const char* const> empty_files;
        const char* variable;
        const char* refusal;  ///< "the circuit simulator is not started"
    };
    explicit PrivateDirectory(const Wanted& wanted);
    ~PrivateDirectory();
    PrivateDirectory(const PrivateDirectory&) = delete;
    PrivateDirectory& operator=(const PrivateDirectory&) = delete;

private:
    struct System;
    std::unique_ptr<System> system_;
};

}  // namespace voltfall
