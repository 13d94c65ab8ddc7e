// The bytes of files and streams, and files of no importance. Errors are those of errno.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace voltfall {

/// All bytes of a file of at most `most`, of a pipe to its end. The error is an errno; EFBIG where there is more.
tl::expected<std::string, int> bytes_of_file(const std::string& path, std::size_t most);

/// Writes into a pipe or a device as it stands. 0, or the errno.
int write_into_stream(const std::string& path, std::string_view text);

/// 0 where files may be made in a folder (empty: the working one), else the errno.
int why_no_files_in(const std::string& folder);

/// Is the errno that of a disk without room?
bool is_full_disk(int error);

/// A new file in the folder for temporary ones, for its owner alone; its path begins and ends so there. Returns
/// nullopt, and leaves nothing, where that fails.
std::optional<std::string> write_temporary_file(const std::string& beginning, const std::string& ending,
                                                std::string_view text);

}  // namespace voltfall
