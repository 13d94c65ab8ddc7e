#include "netlists/platform/private_directory.hpp"

#include <fcntl.h>
#include <sys/types.h>
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
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <system_error>
#include <utility>

namespace voltfall {

namespace {

/// What the keeper has made, or why it could not.
struct Made {
    std::array<char, PATH_MAX> folder{};
    int error{0};
};

[[noreturn]] void cannot(const char* refusal, const std::string& what, int error) {
    throw std::runtime_error(std::string(refusal) + ": cannot " + what + ": " + std::strerror(error));
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

bool make_empty_files(int folder, std::span<const char* const> names) {
    for (const char* name : names) {
        const int file = ::openat(folder, name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
        if (file < 0) return false;
        if (::close(file) != 0) return false;
    }
    return true;
}

void remove_folder(const char* path, int folder, std::span<const char* const> names) {
    for (const char* name : names) ::unlinkat(folder, name, 0);
    ::rmdir(path);
}

/// The child's whole life: makes the folder, tells, waits until the parent lets go or dies, takes the folder away. It
/// calls the system alone: threads of the parent may have held anything when it was made.
[[noreturn]] void keep_folder(Made& made, std::span<const char* const> names, int tell, int held) {
    ::setsid();  // what is sent to the parent's group is not for it
    ::signal(SIGPIPE, SIG_IGN);
    ::dup2(tell, STDOUT_FILENO);
    ::dup2(held, STDIN_FILENO);
    ::close_range(STDERR_FILENO, ~0U, 0);
    int folder = -1;
    const char* const path = ::mkdtemp(made.folder.data());
    const bool ready = path != nullptr && (folder = ::open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC)) >= 0 &&
                       make_empty_files(folder, names);
    if (!ready) made.error = errno;
    const bool told = ::write(STDOUT_FILENO, &made, sizeof made) == static_cast<ssize_t>(sizeof made);
    char nothing = 0;
    while (told && ready && ::read(STDIN_FILENO, &nothing, 1) < 0 && errno == EINTR) {
    }
    if (path != nullptr) remove_folder(path, folder, names);
    ::_exit(0);
}

std::string temporary_pattern(const char* refusal) {
    std::error_code failed;
    const std::filesystem::path folder = std::filesystem::temp_directory_path(failed);
    if (failed) throw std::runtime_error(std::string(refusal) + ": there is no folder for temporary files");
    return (folder / "voltfall-XXXXXX").string();
}

}  // namespace

struct PrivateDirectory::System {
    explicit System(const Wanted& wanted);
    ~System();
    System(const System&) = delete;
    System& operator=(const System&) = delete;
    void let_go();

    const char* variable;
    int before{-1};   ///< the working directory as it was
    int holding{-1};  ///< end of a pipe: the folder stays while it is open
    pid_t keeper{-1};
    std::string own;
    std::optional<std::string> variable_before;
};

PrivateDirectory::System::System(const Wanted& wanted) : variable(wanted.variable) {
    const char* const refusal = wanted.refusal;
    auto made = std::make_unique<Made>();
    const std::string pattern = temporary_pattern(refusal);
    if (pattern.size() >= made->folder.size()) cannot(refusal, "make a folder " + pattern, ENAMETOOLONG);
    pattern.copy(made->folder.data(), pattern.size());
    std::array<int, 2> told{};
    std::array<int, 2> held{};
    if (::pipe2(told.data(), O_CLOEXEC) != 0) cannot(refusal, "make a pipe", errno);
    if (::pipe2(held.data(), O_CLOEXEC) != 0) {
        const int error = errno;
        for (const int end : told) ::close(end);
        cannot(refusal, "make a pipe", error);
    }
    keeper = ::fork();
    if (keeper == 0) keep_folder(*made, wanted.empty_files, told[1], held[0]);
    const int failed = keeper < 0 ? errno : EIO;  // the keeper has ended without a word
    ::close(told[1]);
    ::close(held[0]);
    holding = held[1];
    const bool heard = keeper > 0 && read_all(told[0], made.get(), sizeof *made);
    ::close(told[0]);
    if (!heard) {
        let_go();
        cannot(refusal, "make a private folder", failed);
    }
    own = made->folder.data();
    if (made->error != 0) {
        let_go();
        cannot(refusal, "write its start-up files in a folder like " + pattern, made->error);
    }
    // Only to be gone back to: a folder that may be entered may be one whose names may not be read.
    before = ::open(".", O_PATH | O_DIRECTORY | O_CLOEXEC);
    if (before < 0 || ::chdir(own.c_str()) != 0) {
        const int error = errno;
        const std::string what = before < 0 ? "hold the working folder" : "enter " + own;
        let_go();
        cannot(refusal, what, error);
    }
    if (const char* scripts = std::getenv(variable)) variable_before = scripts;
    ::setenv(variable, own.c_str(), 1);
}

PrivateDirectory::System::~System() {
    // A working directory that is gone cannot be gone back to; `let_go` closes it in either case.
    if (before >= 0) (void)!::fchdir(before);
    if (variable_before) {
        ::setenv(variable, variable_before->c_str(), 1);
    } else {
        ::unsetenv(variable);
    }
    let_go();
}

void PrivateDirectory::System::let_go() {
    if (before >= 0) ::close(std::exchange(before, -1));
    if (holding >= 0) ::close(std::exchange(holding, -1));
    while (keeper > 0 && ::waitpid(keeper, nullptr, 0) < 0 && errno == EINTR) {
    }
    keeper = -1;
}

PrivateDirectory::PrivateDirectory(const Wanted& wanted) : system_(std::make_unique<System>(wanted)) {}

PrivateDirectory::~PrivateDirectory() = default;

}  // namespace voltfall
