#include "netlists/platform/file_beside.hpp"

#include <fmt/format.h>

#include <random>

#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

namespace {

/// Moves a file to its place. A reader that has the old file open just now keeps the system from replacing it: that is
/// waited for. A program that keeps it open (a table that is shown) is an error.
int move_to(const std::wstring& from, const std::wstring& to, DWORD how) {
    constexpr int most_tries = 100;
    constexpr DWORD pause_milliseconds = 20;
    for (int tried = 1;; ++tried) {
        if (::MoveFileExW(from.c_str(), to.c_str(), how | MOVEFILE_WRITE_THROUGH) != 0) return 0;
        const DWORD error = ::GetLastError();
        const DWORD there = ::GetFileAttributesW(to.c_str());
        const bool is_held = error == ERROR_SHARING_VIOLATION || error == ERROR_LOCK_VIOLATION ||
                             (error == ERROR_ACCESS_DENIED && there != INVALID_FILE_ATTRIBUTES &&
                              (there & (FILE_ATTRIBUTE_DIRECTORY | FILE_ATTRIBUTE_READONLY)) == 0);
        if (!is_held || tried == most_tries) return errno_of_system(error);
        ::Sleep(pause_milliseconds);
    }
}

}  // namespace

PathKind kind_of_path(const std::string& path) {
    const std::wstring name = wide(path);
    const DWORD there = ::GetFileAttributesW(name.c_str());
    // Devices ("NUL", "CON") have attributes or none, as the version has it: what opens as no file on a disk is one.
    if (there != INVALID_FILE_ATTRIBUTES && (there & FILE_ATTRIBUTE_DIRECTORY) != 0) return PathKind::folder;
    const SystemHandle opened(::CreateFileW(name.c_str(), 0, share_all, nullptr, OPEN_EXISTING, 0, nullptr));
    if (!opened.is_open()) return there == INVALID_FILE_ATTRIBUTES ? PathKind::nothing : PathKind::file;
    return ::GetFileType(opened.get()) == FILE_TYPE_DISK ? PathKind::file : PathKind::stream;
}

bool is_taken(const std::string& path) {
    return ::GetFileAttributesW(wide(path).c_str()) != INVALID_FILE_ATTRIBUTES;
}

struct FileBeside::System {
    explicit System(const std::string& place) : target(wide(place)) {
        constexpr int most_tries = 10;
        std::random_device random;
        for (int tried = 0; !file.is_open() && tried < most_tries; ++tried) {
            named = wide(fmt::format("{}.{:08x}", place, random()));
            file.reset(::CreateFileW(named.c_str(), GENERIC_WRITE | DELETE, 0, nullptr, CREATE_NEW,
                                     FILE_ATTRIBUTE_NORMAL, nullptr));
            error = file.is_open() ? 0 : errno_of_system();
            if (error != EEXIST) break;
        }
        has_name = file.is_open();
    }
    ~System() {
        file.close();
        if (has_name) ::DeleteFileW(named.c_str());
    }
    System(const System&) = delete;
    System& operator=(const System&) = delete;

    int take(DWORD how) {
        file.close();
        const int failed = move_to(named, target, how);
        has_name = failed != 0;
        return failed;
    }

    std::wstring target;
    std::wstring named;
    SystemHandle file;
    bool has_name{false};
    int error{0};
};

FileBeside::FileBeside(const std::string& target) : system_(std::make_unique<System>(target)) {}

FileBeside::~FileBeside() = default;

int FileBeside::error() const {
    return system_->error;
}

int FileBeside::fill(std::string_view text) {
    const HANDLE file = system_->file.get();
    return write_all(file, text) && ::FlushFileBuffers(file) != 0 ? 0 : errno_of_system();
}

int FileBeside::take_free_place() {
    return system_->take(0);
}

int FileBeside::take_place() {
    return system_->take(MOVEFILE_REPLACE_EXISTING);
}

}  // namespace voltfall
