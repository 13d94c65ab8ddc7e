#include "netlists/files/whole_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <thread>
#include <utility>

#include "netlists/files/toml_file.hpp"

namespace voltfall {

namespace {

using Clock = std::chrono::steady_clock;

constexpr auto between_tries = std::chrono::milliseconds(20);

tl::unexpected<FileFailure> failure(std::string_view doing, const std::string& path, int error) {
    std::string suggestion;
    switch (error) {
        case EACCES:
        case EPERM:
        case EROFS:
            suggestion = "the file or its folder may not be written; nothing was changed";
            break;
        case ENOSPC:
        case EDQUOT:
            suggestion = "the disk is full; nothing was changed";
            break;
        case ENOENT:
            suggestion = "is the name right, and the folder there?";
            break;
        default:
            suggestion = "nothing was changed";
    }
    return tl::unexpected(FileFailure{fmt::format("cannot {} {}: {}", doing, path, std::strerror(error)), suggestion});
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

/// The file itself behind symbolic links; the path as given where there is none yet.
std::string behind_links(const std::string& path) {
    std::error_code none;
    const std::filesystem::path real = std::filesystem::canonical(path, none);
    return none ? path : real.string();
}

void sync_folder(const std::string& path) {
    const std::filesystem::path folder = std::filesystem::path(path).parent_path();
    const OpenFile opened(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened.number() >= 0) ::fsync(opened.number());
}

}  // namespace

tl::expected<std::string, FileFailure> read_whole_file(const std::string& path) {
    const OpenFile file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.number() < 0) return failure("read", path, errno);
    std::string bytes;
    char block[1 << 14];
    for (;;) {
        const ssize_t got = ::read(file.number(), block, sizeof block);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return failure("read", path, errno);
        if (got == 0) return bytes;
        bytes.append(block, static_cast<std::size_t>(got));
        if (bytes.size() > largest_file_bytes) {
            return tl::unexpected(FileFailure{fmt::format("{} is larger than {} bytes", path, largest_file_bytes),
                                              "is it the file that you mean?"});
        }
    }
}

tl::expected<void, FileFailure> replace_whole_file(const std::string& path, std::string_view text) {
    const std::string target = behind_links(path);
    const mode_t mode = mode_for(target);
    std::string beside = target + ".XXXXXX";
    OpenFile file(::mkostemp(beside.data(), O_CLOEXEC));
    if (file.number() < 0) return failure("write beside", path, errno);
    const auto give_up = [&]() {
        const int error = errno;
        ::unlink(beside.c_str());
        return failure("write", path, error);
    };
    if (!write_all(file.number(), text) || ::fchmod(file.number(), mode) != 0 || ::fsync(file.number()) != 0 ||
        !file.close()) {
        return give_up();
    }
    if (::rename(beside.c_str(), target.c_str()) != 0) return give_up();
    sync_folder(target);
    return {};
}

tl::expected<FileLock, FileFailure> FileLock::take(const std::string& path, double seconds) {
    const auto until = Clock::now() + std::chrono::duration<double>(seconds);
    for (;;) {
        FileLock lock(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
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
    if (file_ >= 0) ::close(file_);
}

FileLock::FileLock(FileLock&& other) noexcept : file_(std::exchange(other.file_, -1)) {}

}  // namespace voltfall
