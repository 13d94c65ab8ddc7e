#include "netlists/files/whole_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <istream>
#include <thread>

#include "netlists/files/toml_file.hpp"
#include "netlists/platform/file_beside.hpp"
#include "netlists/platform/file_bytes.hpp"
#include "netlists/platform/paths.hpp"

namespace voltfall {

namespace {

using Clock = std::chrono::steady_clock;

constexpr auto between_tries = std::chrono::milliseconds(20);

std::string advice_for(int error) {
    if (is_full_disk(error)) return "the disk is full; nothing was changed";
    switch (error) {
        case EACCES:
        case EPERM:
        case EROFS:
            return "the file or its folder may not be written; nothing was changed";
        case ENOENT:
            return "is the name right, and the folder there?";
        case EISDIR:
            return "it is a folder; name a file in it";
        default:
            return "nothing was changed";
    }
}

tl::unexpected<FileFailure> failure(std::string_view doing, const std::string& path, int error) {
    return tl::unexpected(
        FileFailure{fmt::format("cannot {} {}: {}", doing, path, std::strerror(error)), advice_for(error)});
}

tl::unexpected<FileFailure> not_read(const std::string& path, int error) {
    const bool hidden = error == EACCES || error == EPERM;
    return tl::unexpected(FileFailure{fmt::format("cannot read '{}': {}", path, std::strerror(error)),
                                      hidden ? "may you read it?" : "check the name of the file"});
}

FileFailure no_file_named() {
    return {"no file is named", "the name is empty: is a variable of the shell not set?"};
}

/// The file itself behind symbolic links, also where they name one that is not there yet.
std::string behind_links(const std::string& path) {
    constexpr int most_links = 40;
    std::filesystem::path at = path_of(path);
    std::error_code failed;
    for (int links = 0; links < most_links && std::filesystem::is_symlink(at, failed); ++links) {
        const std::filesystem::path to = std::filesystem::read_symlink(at, failed);
        if (failed) break;
        at = to.is_absolute() ? to : at.parent_path() / to;
    }
    return path_text(at);
}

}  // namespace

std::string rest_of_stream(std::istream& stream, std::size_t most) {
    std::string bytes;
    char block[1 << 14];
    while (bytes.size() <= most && stream) {
        stream.read(block, static_cast<std::streamsize>(std::min(sizeof block, most + 1 - bytes.size())));
        bytes.append(block, static_cast<std::size_t>(stream.gcount()));
    }
    return bytes;
}

tl::expected<std::string, FileFailure> read_whole_file(const std::string& path) {
    return read_whole_file(path, largest_file_bytes);
}

tl::expected<std::string, FileFailure> read_whole_file(const std::string& path, std::size_t most) {
    if (path.empty()) return tl::unexpected(no_file_named());
    auto bytes = bytes_of_file(path, most);
    if (bytes) return *std::move(bytes);
    if (bytes.error() != EFBIG) return not_read(path, bytes.error());
    return tl::unexpected(
        FileFailure{fmt::format("{} is larger than {} bytes", path, most), "is it the file that you mean?"});
}

tl::expected<void, FileFailure> replace_whole_file(const std::string& path, std::string_view text) {
    const std::string target = behind_links(path);
    if (kind_of_path(target) == PathKind::folder) return failure("write", path, EISDIR);
    FileBeside beside(target);
    if (const int error = beside.error()) return failure("write beside", path, error);
    if (const int error = beside.fill(text)) return failure("write", path, error);
    if (const int error = beside.take_place()) return failure("write", path, error);
    return {};
}

tl::expected<void, FileFailure> write_new_file(const std::string& path, std::string_view text) {
    const std::string target = behind_links(path);
    const auto exists = [&] {
        return tl::unexpected(FileFailure{fmt::format("{} exists already", path), "nothing was changed", true});
    };
    if (is_taken(target)) return exists();
    FileBeside beside(target);
    if (const int error = beside.error()) return failure("write", path, error);
    if (const int error = beside.fill(text)) return failure("write", path, error);
    const int error = beside.take_free_place();
    if (error == EEXIST) return exists();
    if (error != 0) return failure("write", path, error);
    return {};
}

bool is_stream(const std::string& path) {
    return kind_of_path(path) == PathKind::stream;
}

tl::expected<void, FileFailure> write_to_stream(const std::string& path, std::string_view text) {
    if (const int error = write_into_stream(path, text)) return failure("write", path, error);
    return {};
}

tl::expected<FileLock, FileFailure> FileLock::take(const std::string& path, double seconds, Missing missing) {
    const auto until = Clock::now() + std::chrono::duration<double>(seconds);
    for (;;) {
        LockedFile file(path, missing == Missing::begin);
        if (const int error = file.error()) return failure("open", path, error);
        switch (file.try_lock()) {
            case LockedFile::Tried::locked:
                return FileLock(std::move(file));
            case LockedFile::Tried::failed:
                return failure("lock", path, file.error());
            case LockedFile::Tried::later:
                break;
        }
        if (Clock::now() >= until) {
            return tl::unexpected(FileFailure{fmt::format("{} is being changed by another program", path),
                                              "try again when that has ended; nothing was changed"});
        }
        std::this_thread::sleep_for(between_tries);
    }
}

}  // namespace voltfall
