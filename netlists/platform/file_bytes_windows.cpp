#include <fmt/format.h>

#include <filesystem>
#include <random>

#include "netlists/platform/file_bytes.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

tl::expected<std::string, int> bytes_of_file(const std::string& path, std::size_t most) {
    const std::wstring name = wide(path);
    const SystemHandle file(
        ::CreateFileW(name.c_str(), GENERIC_READ, share_all, nullptr, OPEN_EXISTING, FILE_ATTRIBUTE_NORMAL, nullptr));
    if (!file.is_open()) {
        const int error = errno_of_system();
        const DWORD there = ::GetFileAttributesW(name.c_str());
        const bool is_folder = there != INVALID_FILE_ATTRIBUTES && (there & FILE_ATTRIBUTE_DIRECTORY) != 0;
        return tl::unexpected(is_folder ? EISDIR : error);
    }
    std::string bytes;
    char block[1 << 14];
    for (;;) {
        DWORD got = 0;
        if (::ReadFile(file.get(), block, sizeof block, &got, nullptr) == 0) {
            if (::GetLastError() == ERROR_BROKEN_PIPE || ::GetLastError() == ERROR_HANDLE_EOF) return bytes;
            return tl::unexpected(errno_of_system());
        }
        if (got == 0) return bytes;
        bytes.append(block, got);
        if (bytes.size() > most) return tl::unexpected(EFBIG);
    }
}

int write_into_stream(const std::string& path, std::string_view text) {
    SystemHandle stream(::CreateFileW(wide(path).c_str(), GENERIC_WRITE, share_all, nullptr, OPEN_EXISTING,
                                      FILE_ATTRIBUTE_NORMAL, nullptr));
    return !stream.is_open() || !write_all(stream.get(), text) || !stream.close() ? errno_of_system() : 0;
}

int why_no_files_in(const std::string& folder) {
    // Who may write is told by trying alone: a file that is gone again as soon as it is there.
    const std::string at = folder.empty() ? "." : folder;
    std::random_device random;
    const SystemHandle tried(::CreateFileW(wide(fmt::format("{}/voltfall-{:08x}", at, random())).c_str(),
                                           GENERIC_WRITE | DELETE, 0, nullptr, CREATE_NEW, FILE_FLAG_DELETE_ON_CLOSE,
                                           nullptr));
    return tried.is_open() ? 0 : errno_of_system();
}

bool is_full_disk(int error) {
    return error == ENOSPC;
}

std::optional<std::string> write_temporary_file(const std::string& beginning, const std::string& ending,
                                                std::string_view text) {
    std::error_code failed;
    const std::filesystem::path folder = std::filesystem::temp_directory_path(failed);
    if (failed) return std::nullopt;
    std::random_device random;
    const std::string path = path_text(folder / path_of(fmt::format("{}{:08x}{}", beginning, random(), ending)));
    const std::wstring name = wide(path);
    SystemHandle file(
        ::CreateFileW(name.c_str(), GENERIC_WRITE, 0, nullptr, CREATE_NEW, FILE_ATTRIBUTE_NORMAL, nullptr));
    if (!file.is_open()) return std::nullopt;
    const bool whole = write_all(file.get(), text);
    if (file.close() && whole) return path;
    ::DeleteFileW(name.c_str());
    return std::nullopt;
}

}  // namespace voltfall
