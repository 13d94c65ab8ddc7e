// Where the library starts: a private folder, so that no start-up file of the user is run.
#pragma once

#include <sys/types.h>

#include <optional>
#include <string>

namespace voltfall {

/// While it lives, the working directory is an own temporary one with an empty `.spiceinit` and an empty `spinit`, and
/// SPICE_SCRIPTS points at it (no code models are loaded, which halves the start). Afterwards all is as before and the
/// folder is gone, also when the process is killed meanwhile: a child process makes it, and takes it away when this
/// one lets go. Throws std::runtime_error where the folder or one of its files cannot be made: the library would run
/// the user's own start-up file instead.
class PrivateDirectory {
public:
    PrivateDirectory();
    ~PrivateDirectory();
    PrivateDirectory(const PrivateDirectory&) = delete;
    PrivateDirectory& operator=(const PrivateDirectory&) = delete;

private:
    void let_go();

    int before_{-1};   ///< the working directory as it was
    int holding_{-1};  ///< end of a pipe: the folder stays while it is open
    pid_t keeper_{-1};
    std::string own_;
    std::optional<std::string> scripts_before_;
};

}  // namespace voltfall
