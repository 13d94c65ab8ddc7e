#include <fcntl.h>
#include <stdlib.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "netlists/platform/file_bytes.hpp"
#include "netlists/platform/open_file_posix.hpp"

namespace voltfall {

tl::expected<std::string, int> bytes_of_file(const std::string& path, std::size_t most) {
    const OpenFile file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.number() < 0) return tl::unexpected(errno);
    std::string bytes;
    char block[1 << 14];
    for (;;) {
        const ssize_t got = ::read(file.number(), block, sizeof block);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return tl::unexpected(errno);
        if (got == 0) return bytes;
        bytes.append(block, static_cast<std::size_t>(got));
        if (bytes.size() > most) return tl::unexpected(EFBIG);
    }
}

int write_into_stream(const std::string& path, std::string_view text) {
    OpenFile stream(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    return stream.number() < 0 || !write_all(stream.number(), text) || !stream.close() ? errno : 0;
}

int why_no_files_in(const std::string& folder) {
    return ::access(folder.empty() ? "." : folder.c_str(), W_OK) == 0 ? 0 : errno;
}

bool is_full_disk(int error) {
    return error == ENOSPC || error == EDQUOT;
}

std::optional<std::string> write_temporary_file(const std::string& beginning, const std::string& ending,
                                                std::string_view text) {
    std::error_code failed;
    const std::filesystem::path folder = std::filesystem::temp_directory_path(failed);
    if (failed) return std::nullopt;
    std::string path = (folder / (beginning + "XXXXXX" + ending)).string();
    OpenFile file(::mkstemps(path.data(), static_cast<int>(ending.size())));
    if (file.number() < 0) return std::nullopt;
    const bool whole = ::write(file.number(), text.data(), text.size()) == static_cast<ssize_t>(text.size());
    if (file.close() && whole) return path;
    std::filesystem::remove(path, failed);
    return std::nullopt;
}

}  // namespace voltfall
