#include "netlists/files/whole_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <pthread.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <random>
#include <thread>
#include <utility>

#include "netlists/files/toml_file.hpp"

namespace voltfall {

namespace {

using Clock = std::chrono::steady_clock;

constexpr auto between_tries = std::chrono::milliseconds(20);

std::string advice_for(int error) {
    switch (error) {
        case EACCES:
        case EPERM:
        case EROFS:
            return "the file or its folder may not be written; nothing was changed";
        case ENOSPC:
        case EDQUOT:
            return "the disk is full; nothing was changed";
        case ENOENT:
            return "is the name right, and the folder there?";
        case EISDIR:
            return "it is a folder; name a file in it";
        default:
            return "nothing was changed";
    }
}

tl::unexpected<FileFailure> failure(std::string_view doing, const std::string& path, int error) {
    return tl::unexpected(
        FileFailure{fmt::format("cannot {} {}: {}", doing, path, std::strerror(error)), advice_for(error)});
}

tl::unexpected<FileFailure> not_read(const std::string& path, int error) {
    const bool hidden = error == EACCES || error == EPERM;
    return tl::unexpected(FileFailure{fmt::format("cannot read '{}': {}", path, std::strerror(error)),
                                      hidden ? "may you read it?" : "check the name of the file"});
}

FileFailure no_file_named() {
    return {"no file is named", "the name is empty: is a variable of the shell not set?"};
}

/// An open file; closed at the end of its life.
class OpenFile {
public:
    explicit OpenFile(int file) : file_(file) {}
    ~OpenFile() {
        if (file_ >= 0) ::close(file_);
    }
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;

    int number() const { return file_; }
    void reset(int file) {
        if (file_ >= 0) ::close(file_);
        file_ = file;
    }
    /// False where the system says that what was written is lost.
    bool close() { return ::close(std::exchange(file_, -1)) == 0; }

private:
    int file_;
};

bool write_all(int file, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

/// The mode of the file that is replaced, else what a new file gets.
mode_t mode_for(const std::string& path) {
    struct stat there {};
    if (::stat(path.c_str(), &there) == 0) return there.st_mode & 07777;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666 & ~mask;
}

/// The file itself behind symbolic links, also where they name one that is not there yet.
std::string behind_links(const std::string& path) {
    constexpr int most_links = 40;
    std::filesystem::path at = path;
    std::error_code failed;
    for (int links = 0; links < most_links && std::filesystem::is_symlink(at, failed); ++links) {
        const std::filesystem::path to = std::filesystem::read_symlink(at, failed);
        if (failed) break;
        at = to.is_absolute() ? to : at.parent_path() / to;
    }
    return at.string();
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

/// A file under work beside its place: without a name where the file system can do that, so that a kill leaves nothing.
class FileBeside {
public:
    explicit FileBeside(const std::string& target)
        : named_(target + ".XXXXXX"), file_(::open(folder_of(target).c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0600)) {
        if (file_.number() >= 0) return;
        has_name_ = true;
        file_.reset(::mkostemp(named_.data(), O_CLOEXEC));
    }
    ~FileBeside() {
        if (has_name_) ::unlink(named_.c_str());
    }
    FileBeside(const FileBeside&) = delete;
    FileBeside& operator=(const FileBeside&) = delete;

    int number() const { return file_.number(); }

    /// Gives the file this name, which nothing has yet.
    bool link_to(const std::string& path) {
        if (has_name_) return ::link(named_.c_str(), path.c_str()) == 0;
        const std::string self = fmt::format("/proc/self/fd/{}", file_.number());
        return ::linkat(AT_FDCWD, self.c_str(), AT_FDCWD, path.c_str(), AT_SYMLINK_FOLLOW) == 0;
    }
    /// Puts the file in the place of what stands there.
    bool rename_to(const std::string& path) {
        const SignalsHeld held;
        if (!has_name_) {
            constexpr int most_tries = 10;
            std::random_device random;
            for (int tried = 0; !has_name_ && tried < most_tries; ++tried) {
                named_ = fmt::format("{}.{:08x}", path, random());
                has_name_ = link_to(named_);
                if (!has_name_ && errno != EEXIST) return false;
            }
        }
        if (::rename(named_.c_str(), path.c_str()) != 0) return false;
        has_name_ = false;
        return true;
    }

private:
    std::string named_;
    OpenFile file_;
    bool has_name_{false};
};

void sync_folder(const std::string& path) {
    const OpenFile opened(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened.number() >= 0) ::fsync(opened.number());
}

}  // namespace

tl::expected<std::string, FileFailure> read_whole_file(const std::string& path) {
    return read_whole_file(path, largest_file_bytes);
}

tl::expected<std::string, FileFailure> read_whole_file(const std::string& path, std::size_t most) {
    if (path.empty()) return tl::unexpected(no_file_named());
    const OpenFile file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.number() < 0) return not_read(path, errno);
    std::string bytes;
    char block[1 << 14];
    for (;;) {
        const ssize_t got = ::read(file.number(), block, sizeof block);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return not_read(path, errno);
        if (got == 0) return bytes;
        bytes.append(block, static_cast<std::size_t>(got));
        if (bytes.size() > most) {
            return tl::unexpected(
                FileFailure{fmt::format("{} is larger than {} bytes", path, most), "is it the file that you mean?"});
        }
    }
}

namespace {

/// Fills the file beside the target; errno tells why where that fails.
bool fill(const FileBeside& beside, const std::string& target, std::string_view text) {
    struct stat there {};
    const bool stands = ::stat(target.c_str(), &there) == 0;
    // Whose it was it stays; only the system's administrator can give it away.
    if (stands && ::fchown(beside.number(), there.st_uid, there.st_gid) != 0) errno = 0;
    return write_all(beside.number(), text) && ::fchmod(beside.number(), mode_for(target)) == 0 &&
           ::fsync(beside.number()) == 0;
}

}  // namespace

tl::expected<void, FileFailure> replace_whole_file(const std::string& path, std::string_view text) {
    const std::string target = behind_links(path);
    struct stat there {};
    if (::stat(target.c_str(), &there) == 0 && S_ISDIR(there.st_mode)) return failure("write", path, EISDIR);
    FileBeside beside(target);
    if (beside.number() < 0) return failure("write beside", path, errno);
    if (!fill(beside, target, text) || !beside.rename_to(target)) return failure("write", path, errno);
    sync_folder(target);
    return {};
}

tl::expected<void, FileFailure> write_new_file(const std::string& path, std::string_view text) {
    const std::string target = behind_links(path);
    const auto exists = [&] {
        return tl::unexpected(FileFailure{fmt::format("{} exists already", path), "nothing was changed", true});
    };
    struct stat there {};
    if (::lstat(target.c_str(), &there) == 0) return exists();
    FileBeside beside(target);
    if (beside.number() < 0) return failure("write", path, errno);
    if (!fill(beside, target, text)) return failure("write", path, errno);
    if (!beside.link_to(target)) return errno == EEXIST ? exists() : failure("write", path, errno);
    sync_folder(target);
    return {};
}

bool is_stream(const std::string& path) {
    struct stat there {};
    return ::stat(path.c_str(), &there) == 0 && !S_ISREG(there.st_mode) && !S_ISDIR(there.st_mode);
}

tl::expected<void, FileFailure> write_to_stream(const std::string& path, std::string_view text) {
    OpenFile stream(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    if (stream.number() < 0 || !write_all(stream.number(), text) || !stream.close())
        return failure("write", path, errno);
    return {};
}

tl::expected<FileLock, FileFailure> FileLock::take(const std::string& path, double seconds, Missing missing) {
    const auto until = Clock::now() + std::chrono::duration<double>(seconds);
    for (;;) {
        FileLock lock(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
        if (lock.file_ < 0 && errno == ENOENT && missing == Missing::begin) {
            lock.file_ = ::open(path.c_str(), O_RDONLY | O_CREAT | O_CLOEXEC, 0666);
            if (lock.file_ >= 0) lock.begun_ = path;
        }
        if (lock.file_ < 0) return failure("open", path, errno);
        if (::flock(lock.file_, LOCK_EX | LOCK_NB) == 0) {
            // Whoever held the lock may have replaced the file meanwhile: then this lock is that of the old one.
            struct stat held {};
            struct stat there {};
            const bool same = ::fstat(lock.file_, &held) == 0 && ::stat(path.c_str(), &there) == 0 &&
                              held.st_ino == there.st_ino && held.st_dev == there.st_dev;
            if (same) return lock;
        } else if (errno != EWOULDBLOCK && errno != EINTR) {
            return failure("lock", path, errno);
        }
        if (Clock::now() >= until) {
            return tl::unexpected(FileFailure{fmt::format("{} is being changed by another program", path),
                                              "try again when that has ended; nothing was changed"});
        }
        std::this_thread::sleep_for(between_tries);
    }
}

FileLock::~FileLock() {
    if (file_ < 0) return;
    struct stat begun {};
    struct stat there {};
    // Begun and never written: the name still stands for the empty file that is locked here.
    if (!begun_.empty() && ::fstat(file_, &begun) == 0 && ::stat(begun_.c_str(), &there) == 0 && there.st_size == 0 &&
        begun.st_ino == there.st_ino && begun.st_dev == there.st_dev)
        ::unlink(begun_.c_str());
    ::close(file_);
}

FileLock::FileLock(FileLock&& other) noexcept
    : file_(std::exchange(other.file_, -1)), begun_(std::exchange(other.begun_, {})) {}

}  // namespace voltfall
