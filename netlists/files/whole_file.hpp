// Files that matter are replaced as a whole: whoever reads one finds the old text or the new, never half of either.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace voltfall {

/// Why a file could not be read or written, and what may help.
struct FileFailure {
    std::string message;
    std::string suggestion;
};

/// The bytes of a file of at most `largest_file_bytes`.
tl::expected<std::string, FileFailure> read_whole_file(const std::string& path);

/// Writes `text` beside the file, syncs it and renames it over the file. A symbolic link stays, the file that it names
/// is replaced; the file keeps its mode. Nothing is changed and nothing is left behind where that fails.
tl::expected<void, FileFailure> replace_whole_file(const std::string& path, std::string_view text);

/// Held by one program at a time while it reads a file, changes it and writes it back. Released at the end of its life,
/// and by the system when the program is killed.
class FileLock {
public:
    /// Waits at most `seconds` for whoever holds it.
    static tl::expected<FileLock, FileFailure> take(const std::string& path, double seconds);
    ~FileLock();
    FileLock(FileLock&& other) noexcept;
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    FileLock& operator=(FileLock&&) = delete;

private:
    explicit FileLock(int file) : file_(file) {}
    int file_{-1};
};

}  // namespace voltfall
