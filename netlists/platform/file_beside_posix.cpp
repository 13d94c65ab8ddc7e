#include "netlists/platform/file_beside.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <pthread.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <filesystem>
#include <random>

#include "netlists/platform/open_file_posix.hpp"

namespace voltfall {

namespace {

/// The mode of the file that is replaced, else what a new file gets.
mode_t mode_for(const std::string& path) {
    struct stat there {};
    if (::stat(path.c_str(), &there) == 0) return there.st_mode & 07777;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666 & ~mask;
}

std::string folder_of(const std::string& path) {
    const std::filesystem::path folder = std::filesystem::path(path).parent_path();
    return folder.empty() ? "." : folder.string();
}

/// Keeps an interrupt waiting over the moment in which a file has two names.
class SignalsHeld {
public:
    SignalsHeld() {
        sigset_t held;
        sigemptyset(&held);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before_);
    }
    ~SignalsHeld() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
    SignalsHeld(const SignalsHeld&) = delete;
    SignalsHeld& operator=(const SignalsHeld&) = delete;

private:
    sigset_t before_{};
};

void sync_folder(const std::string& path) {
    const OpenFile opened(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened.number() >= 0) ::fsync(opened.number());
}

}  // namespace

PathKind kind_of_path(const std::string& path) {
    struct stat there {};
    if (::stat(path.c_str(), &there) != 0) return PathKind::nothing;
    if (S_ISDIR(there.st_mode)) return PathKind::folder;
    return S_ISREG(there.st_mode) ? PathKind::file : PathKind::stream;
}

bool is_taken(const std::string& path) {
    struct stat there {};
    return ::lstat(path.c_str(), &there) == 0;
}

/// Without a name where the file system can do that, so that a kill leaves nothing.
struct FileBeside::System {
    explicit System(const std::string& place)
        : target(place),
          named(target + ".XXXXXX"),
          file(::open(folder_of(target).c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0600)) {
        if (file.number() >= 0) return;
        file.reset(::mkostemp(named.data(), O_CLOEXEC));
        has_name = file.number() >= 0;
        if (!has_name) error = errno;
    }
    ~System() {
        if (has_name) ::unlink(named.c_str());
    }
    System(const System&) = delete;
    System& operator=(const System&) = delete;

    bool link_to(const std::string& path) const {
        if (has_name) return ::link(named.c_str(), path.c_str()) == 0;
        const std::string self = fmt::format("/proc/self/fd/{}", file.number());
        return ::linkat(AT_FDCWD, self.c_str(), AT_FDCWD, path.c_str(), AT_SYMLINK_FOLLOW) == 0;
    }
    bool rename_to(const std::string& path) {
        const SignalsHeld held;
        if (!has_name) {
            constexpr int most_tries = 10;
            std::random_device random;
            for (int tried = 0; !has_name && tried < most_tries; ++tried) {
                named = fmt::format("{}.{:08x}", path, random());
                has_name = link_to(named);
                if (!has_name && errno != EEXIST) return false;
            }
            if (!has_name) return false;  // the last name tried is another's
        }
        if (::rename(named.c_str(), path.c_str()) != 0) return false;
        has_name = false;
        return true;
    }

    std::string target;
    std::string named;
    OpenFile file;
    bool has_name{false};
    int error{0};
};

FileBeside::FileBeside(const std::string& target) : system_(std::make_unique<System>(target)) {}

FileBeside::~FileBeside() = default;

int FileBeside::error() const {
    return system_->error;
}

int FileBeside::fill(std::string_view text) {
    const int file = system_->file.number();
    struct stat there {};
    const bool stands = ::stat(system_->target.c_str(), &there) == 0;
    // Whose it was it stays; only the system's administrator can give it away.
    if (stands && ::fchown(file, there.st_uid, there.st_gid) != 0) errno = 0;
    const bool done = write_all(file, text) && ::fchmod(file, mode_for(system_->target)) == 0 && ::fsync(file) == 0;
    return done ? 0 : errno;
}

int FileBeside::take_free_place() {
    if (!system_->link_to(system_->target)) return errno;
    sync_folder(system_->target);
    return 0;
}

int FileBeside::take_place() {
    if (!system_->rename_to(system_->target)) return errno;
    sync_folder(system_->target);
    return 0;
}

}  // namespace voltfall
