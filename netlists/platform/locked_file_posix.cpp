#include "netlists/platform/locked_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>

#include "netlists/platform/open_file_posix.hpp"

namespace voltfall {

struct LockedFile::System {
    explicit System(std::string name) : path(std::move(name)), file(::open(path.c_str(), O_RDONLY | O_CLOEXEC)) {}
    ~System() {
        if (file.number() < 0) return;
        struct stat begun_there {};
        struct stat there {};
        // Begun and never written: the name still stands for the empty file that is locked here.
        if (begun && ::fstat(file.number(), &begun_there) == 0 && ::stat(path.c_str(), &there) == 0 &&
            there.st_size == 0 && begun_there.st_ino == there.st_ino && begun_there.st_dev == there.st_dev)
            ::unlink(path.c_str());
    }
    System(const System&) = delete;
    System& operator=(const System&) = delete;

    std::string path;
    OpenFile file;
    bool begun{false};
    int error{0};
};

LockedFile::LockedFile(const std::string& path, bool begin) : system_(std::make_unique<System>(path)) {
    OpenFile& file = system_->file;
    if (file.number() < 0 && errno == ENOENT && begin) {
        file.reset(::open(path.c_str(), O_RDONLY | O_CREAT | O_CLOEXEC, 0666));
        system_->begun = file.number() >= 0;
    }
    if (file.number() < 0) system_->error = errno;
}

LockedFile::~LockedFile() = default;
LockedFile::LockedFile(LockedFile&& other) noexcept = default;

int LockedFile::error() const {
    return system_->error;
}

LockedFile::Tried LockedFile::try_lock() {
    const int file = system_->file.number();
    if (::flock(file, LOCK_EX | LOCK_NB) != 0) {
        if (errno == EWOULDBLOCK || errno == EINTR) return Tried::later;
        system_->error = errno;
        return Tried::failed;
    }
    // Whoever held the lock may have replaced the file meanwhile: then this lock is that of the old one.
    struct stat held {};
    struct stat there {};
    const bool same = ::fstat(file, &held) == 0 && ::stat(system_->path.c_str(), &there) == 0 &&
                      held.st_ino == there.st_ino && held.st_dev == there.st_dev;
    return same ? Tried::locked : Tried::later;
}

}  // namespace voltfall
