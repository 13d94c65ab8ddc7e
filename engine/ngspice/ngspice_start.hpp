// Where the library starts: a private empty directory, so that no start-up file of the user is run.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace voltfall {

/// While it lives, the working directory is an own temporary one with an empty `.spiceinit` and an empty `spinit`, and
/// SPICE_SCRIPTS points at it (no code models are loaded, which halves the start). Afterwards all is as before and the
/// directory is gone. Throws std::runtime_error when it cannot be made.
class PrivateDirectory {
public:
    PrivateDirectory();
    ~PrivateDirectory();
    PrivateDirectory(const PrivateDirectory&) = delete;
    PrivateDirectory& operator=(const PrivateDirectory&) = delete;

private:
    std::filesystem::path before_;
    std::filesystem::path own_;
    std::optional<std::string> scripts_before_;
};

}  // namespace voltfall
