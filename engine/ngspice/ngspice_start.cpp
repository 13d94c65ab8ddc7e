#include "engine/ngspice/ngspice_start.hpp"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <system_error>
#include <utility>

namespace voltfall {

namespace {

constexpr const char* scripts_variable = "SPICE_SCRIPTS";
constexpr std::array init_files{".spiceinit", "spinit"};

/// What the keeper has made, or why it could not.
struct Made {
    std::array<char, PATH_MAX> folder{};
    int error{0};
};

[[noreturn]] void cannot(const std::string& what, int error) {
    throw std::runtime_error("the circuit simulator is not started: cannot " + what + ": " + std::strerror(error));
}

bool read_all(int from, void* into, std::size_t size) {
    auto* at = static_cast<char*>(into);
    while (size > 0) {
        const ssize_t got = ::read(from, at, size);
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return false;
        at += got;
        size -= static_cast<std::size_t>(got);
    }
    return true;
}

bool make_empty_files(int folder) {
    for (const char* name : init_files) {
        const int file = ::openat(folder, name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
        if (file < 0) return false;
        if (::close(file) != 0) return false;
    }
    return true;
}

void remove_folder(const char* path, int folder) {
    for (const char* name : init_files) ::unlinkat(folder, name, 0);
    ::rmdir(path);
}

/// The child's whole life: makes the folder, tells, waits until the parent lets go or dies, takes the folder away. It
/// calls the system alone: threads of the parent may have held anything when it was made.
[[noreturn]] void keep_folder(Made& made, int tell, int held) {
    ::setsid();  // what is sent to the parent's group is not for it
    ::signal(SIGPIPE, SIG_IGN);
    ::dup2(tell, STDOUT_FILENO);
    ::dup2(held, STDIN_FILENO);
    ::close_range(STDERR_FILENO, ~0U, 0);
    int folder = -1;
    const char* const path = ::mkdtemp(made.folder.data());
    const bool ready = path != nullptr && (folder = ::open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC)) >= 0 &&
                       make_empty_files(folder);
    if (!ready) made.error = errno;
    const bool told = ::write(STDOUT_FILENO, &made, sizeof made) == static_cast<ssize_t>(sizeof made);
    char nothing = 0;
    while (told && ready && ::read(STDIN_FILENO, &nothing, 1) < 0 && errno == EINTR) {
    }
    if (path != nullptr) remove_folder(path, folder);
    ::_exit(0);
}

std::string temporary_pattern() {
    std::error_code failed;
    const std::filesystem::path folder = std::filesystem::temp_directory_path(failed);
    if (failed) throw std::runtime_error("the circuit simulator is not started: there is no folder for temporary files");
    return (folder / "voltfall-XXXXXX").string();
}

}  // namespace

PrivateDirectory::PrivateDirectory() {
    auto made = std::make_unique<Made>();
    const std::string pattern = temporary_pattern();
    if (pattern.size() >= made->folder.size()) cannot("make a folder " + pattern, ENAMETOOLONG);
    pattern.copy(made->folder.data(), pattern.size());
    std::array<int, 2> told{};
    std::array<int, 2> held{};
    if (::pipe2(told.data(), O_CLOEXEC) != 0) cannot("make a pipe", errno);
    if (::pipe2(held.data(), O_CLOEXEC) != 0) cannot("make a pipe", errno);
    keeper_ = ::fork();
    if (keeper_ == 0) keep_folder(*made, told[1], held[0]);
    const int failed = errno;
    ::close(told[1]);
    ::close(held[0]);
    holding_ = held[1];
    const bool heard = keeper_ > 0 && read_all(told[0], made.get(), sizeof *made);
    ::close(told[0]);
    if (!heard) {
        let_go();
        cannot("make a private folder", keeper_ > 0 ? EIO : failed);
    }
    own_ = made->folder.data();
    if (made->error != 0) {
        let_go();
        cannot("write its start-up files in a folder like " + pattern, made->error);
    }
    before_ = ::open(".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (::chdir(own_.c_str()) != 0) {
        const int error = errno;
        let_go();
        cannot("enter " + own_, error);
    }
    if (const char* scripts = std::getenv(scripts_variable)) scripts_before_ = scripts;
    ::setenv(scripts_variable, own_.c_str(), 1);
}

PrivateDirectory::~PrivateDirectory() {
    // A working directory that is gone cannot be gone back to.
    if (before_ >= 0 && ::fchdir(before_) != 0) ::close(std::exchange(before_, -1));
    if (scripts_before_) {
        ::setenv(scripts_variable, scripts_before_->c_str(), 1);
    } else {
        ::unsetenv(scripts_variable);
    }
    let_go();
}

void PrivateDirectory::let_go() {
    if (before_ >= 0) ::close(std::exchange(before_, -1));
    if (holding_ >= 0) ::close(std::exchange(holding_, -1));
    while (keeper_ > 0 && ::waitpid(keeper_, nullptr, 0) < 0 && errno == EINTR) {
    }
    keeper_ = -1;
}

}  // namespace voltfall
