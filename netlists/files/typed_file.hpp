// A file as it was typed, read once: whether it is a circuit, a job or a lesson stands in it, not in its name.
#pragma once

#include <iosfwd>
#include <string>

#include "netlists/files/toml_file.hpp"

namespace voltfall {

enum class FileKind { circuit, job, lesson };

/// `-` where a file is named.
inline constexpr std::string_view standard_input_name = "-";

struct TypedFile {
    TomlFile toml;      ///< its path is the file's name as typed
    Problems problems;  ///< of the bytes and of the syntax
    std::string text;   ///< the bytes
    FileKind kind{FileKind::job};
};

/// Reads a file, a pipe (`/dev/fd/63`) or, where `path` is "-", `standard_input` to its end. What cannot be read is a
/// problem. A file that is none of the others is taken for a job.
TypedFile read_typed_file(const std::string& path, std::istream& standard_input);

}  // namespace voltfall
