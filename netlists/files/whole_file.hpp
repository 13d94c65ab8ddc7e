// Files that matter are replaced as a whole: whoever reads one finds the old text or the new, never half of either.
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>

#include "netlists/platform/locked_file.hpp"

namespace voltfall {

/// Why a file could not be read or written, and what may help.
struct FileFailure {
    std::string message;
    std::string suggestion;
    bool exists{false};  ///< a file of that name was to be new
};

/// The bytes of a file of at most `most` bytes (`largest_file_bytes` where nothing is said). A pipe is read to its end.
tl::expected<std::string, FileFailure> read_whole_file(const std::string& path);
tl::expected<std::string, FileFailure> read_whole_file(const std::string& path, std::size_t most);

/// What an open stream still holds, and of more than `most` bytes one byte more than that, so that the reader can say
/// so. Takes the memory that the text needs.
std::string rest_of_stream(std::istream& stream, std::size_t most);

/// Writes `text` beside the file, syncs it and renames it over the file. A symbolic link stays, the file that it names
/// is replaced; the file keeps its mode, and its owner where that may be given. Nothing is changed and nothing is left
/// behind where that fails.
tl::expected<void, FileFailure> replace_whole_file(const std::string& path, std::string_view text);

/// The same for a file that must not be there yet: of two programs that begin it at once, one is refused.
tl::expected<void, FileFailure> write_new_file(const std::string& path, std::string_view text);

/// Is it there, and neither a file nor a folder: a pipe, a terminal, a device? Text goes into it as it is.
bool is_stream(const std::string& path);
tl::expected<void, FileFailure> write_to_stream(const std::string& path, std::string_view text);

/// Held by one program at a time while it reads a file, changes it and writes it back. Released at the end of its life,
/// and by the system when the program is killed.
class FileLock {
public:
    /// Waits at most `seconds` for whoever holds it. A file that is not there is begun empty where that is asked for;
    /// it goes away again when the lock is released and nothing was written.
    enum class Missing { refuse, begin };
    static tl::expected<FileLock, FileFailure> take(const std::string& path, double seconds,
                                                    Missing missing = Missing::refuse);

private:
    explicit FileLock(LockedFile file) : file_(std::move(file)) {}
    LockedFile file_;
};

}  // namespace voltfall
