// A file that is locked against other programs which lock it too.
#pragma once

#include <memory>
#include <string>

namespace voltfall {

/// Open, and locked once that has been tried with success. Released at the end of its life, and by the system when the
/// program is killed.
class LockedFile {
public:
    /// A file that is not there is begun empty where `begin` is set; it goes away again at the end where nothing was
    /// written.
    LockedFile(const std::string& path, bool begin);
    ~LockedFile();
    LockedFile(LockedFile&& other) noexcept;
    LockedFile(const LockedFile&) = delete;
    LockedFile& operator=(const LockedFile&) = delete;
    LockedFile& operator=(LockedFile&&) = delete;

    /// The errno that tells why it is not open; 0.
    int error() const;
    enum class Tried {
        locked,  ///< and still the file of that name
        later,   ///< another program holds it or has just replaced it: open it anew
        failed   ///< `error` tells why
    };
    Tried try_lock();

private:
    struct System;
    std::unique_ptr<System> system_;
};

}  // namespace voltfall
