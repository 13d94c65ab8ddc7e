#include "netlists/platform/locked_file.hpp"

#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

/// A lock of Windows on the file itself would keep everyone from reading and replacing it. So a file beside it is the
/// lock: one program at a time has it open, and the system takes it away when that program closes it or is killed.
/// Other machines at the same share see it too.
struct LockedFile::System {
    explicit System(const std::string& path) : file(wide(path)), lock_name(file + L".lock") {}
    ~System() {
        WIN32_FILE_ATTRIBUTE_DATA there{};
        // Begun and never written.
        if (begun && lock.is_open() && ::GetFileAttributesExW(file.c_str(), GetFileExInfoStandard, &there) != 0 &&
            there.nFileSizeLow == 0 && there.nFileSizeHigh == 0)
            ::DeleteFileW(file.c_str());
    }
    System(const System&) = delete;
    System& operator=(const System&) = delete;

    std::wstring file;
    std::wstring lock_name;
    SystemHandle lock;
    bool begin{false};
    bool begun{false};
    int error{0};
};

LockedFile::LockedFile(const std::string& path, bool begin) : system_(std::make_unique<System>(path)) {
    system_->begin = begin;
    const bool there = ::GetFileAttributesW(system_->file.c_str()) != INVALID_FILE_ATTRIBUTES;
    const int error = there ? 0 : errno_of_system();
    if (!there && (error != ENOENT || !begin)) system_->error = error;
}

LockedFile::~LockedFile() = default;
LockedFile::LockedFile(LockedFile&& other) noexcept = default;

int LockedFile::error() const {
    return system_->error;
}

LockedFile::Tried LockedFile::try_lock() {
    System& s = *system_;
    s.lock.reset(::CreateFileW(s.lock_name.c_str(), GENERIC_WRITE | DELETE, 0, nullptr, OPEN_ALWAYS,
                               FILE_ATTRIBUTE_HIDDEN | FILE_FLAG_DELETE_ON_CLOSE, nullptr));
    if (!s.lock.is_open()) {
        const DWORD error = ::GetLastError();
        const bool is_held =
            error == ERROR_SHARING_VIOLATION || error == ERROR_DELETE_PENDING ||
            (error == ERROR_ACCESS_DENIED && ::GetFileAttributesW(s.lock_name.c_str()) != INVALID_FILE_ATTRIBUTES);
        if (is_held) return Tried::later;
        s.error = errno_of_system(error);
        return Tried::failed;
    }
    if (!s.begin) return Tried::locked;
    const SystemHandle made(
        ::CreateFileW(s.file.c_str(), GENERIC_WRITE, share_all, nullptr, CREATE_NEW, FILE_ATTRIBUTE_NORMAL, nullptr));
    s.begun = made.is_open();
    if (s.begun || ::GetLastError() == ERROR_FILE_EXISTS) return Tried::locked;
    s.error = errno_of_system();
    return Tried::failed;
}

}  // namespace voltfall
