// Texts and errors of Windows, for the Windows halves of this room: names go to the system in UTF-16, its errors come
// back as errno has them.
#pragma once

#include <windows.h>

#include <cerrno>
#include <string>
#include <string_view>
#include <utility>

namespace voltfall {

/// UTF-8 as UTF-16; bytes that are no UTF-8 become U+FFFD.
inline std::wstring wide(std::string_view text) {
    const int size = static_cast<int>(text.size());
    std::wstring made(static_cast<std::size_t>(::MultiByteToWideChar(CP_UTF8, 0, text.data(), size, nullptr, 0)),
                      L'\0');
    ::MultiByteToWideChar(CP_UTF8, 0, text.data(), size, made.data(), static_cast<int>(made.size()));
    return made;
}

inline std::string narrow(std::wstring_view text) {
    const int size = static_cast<int>(text.size());
    const int bytes = ::WideCharToMultiByte(CP_UTF8, 0, text.data(), size, nullptr, 0, nullptr, nullptr);
    std::string made(static_cast<std::size_t>(bytes), '\0');
    ::WideCharToMultiByte(CP_UTF8, 0, text.data(), size, made.data(), bytes, nullptr, nullptr);
    return made;
}

/// The errno that says the same as the last error of the system.
inline int errno_of_system(DWORD error = ::GetLastError()) {
    switch (error) {
        case ERROR_SUCCESS:
            return 0;
        case ERROR_FILE_NOT_FOUND:
        case ERROR_PATH_NOT_FOUND:
        case ERROR_INVALID_NAME:
        case ERROR_BAD_NETPATH:
        case ERROR_INVALID_DRIVE:
            return ENOENT;
        case ERROR_ALREADY_EXISTS:
        case ERROR_FILE_EXISTS:
            return EEXIST;
        case ERROR_DISK_FULL:
        case ERROR_HANDLE_DISK_FULL:
            return ENOSPC;
        case ERROR_ACCESS_DENIED:
        case ERROR_SHARING_VIOLATION:
        case ERROR_LOCK_VIOLATION:
            return EACCES;
        case ERROR_WRITE_PROTECT:
            return EROFS;
        case ERROR_NOT_ENOUGH_MEMORY:
            return ENOMEM;
        default:
            return EIO;
    }
}

/// Closed at the end of its life.
class SystemHandle {
public:
    explicit SystemHandle(HANDLE handle = INVALID_HANDLE_VALUE) : handle_(handle) {}
    ~SystemHandle() { close(); }
    SystemHandle(const SystemHandle&) = delete;
    SystemHandle& operator=(const SystemHandle&) = delete;

    bool is_open() const { return handle_ != INVALID_HANDLE_VALUE; }
    HANDLE get() const { return handle_; }
    void reset(HANDLE handle) {
        close();
        handle_ = handle;
    }
    /// False where the system says that what was written is lost.
    bool close() {
        const HANDLE handle = std::exchange(handle_, INVALID_HANDLE_VALUE);
        return handle == INVALID_HANDLE_VALUE || ::CloseHandle(handle) != 0;
    }

private:
    HANDLE handle_;
};

/// Whoever has the file open must not keep others from it.
inline constexpr DWORD share_all = FILE_SHARE_READ | FILE_SHARE_WRITE | FILE_SHARE_DELETE;

/// Writes in as many pieces as the system takes; false where it takes no more.
inline bool write_all(HANDLE file, std::string_view text) {
    constexpr std::size_t most = 1u << 20;
    while (!text.empty()) {
        DWORD written = 0;
        const auto piece = static_cast<DWORD>(text.size() < most ? text.size() : most);
        if (::WriteFile(file, text.data(), piece, &written, nullptr) == 0 || written == 0) return false;
        text.remove_prefix(written);
    }
    return true;
}

}  // namespace voltfall
