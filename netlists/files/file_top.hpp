// What all files have in common: the keys at their top, the format line, and for jobs and lessons the circuit they
// name.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/files/circuit_file.hpp"
#include "netlists/files/toml_file.hpp"

namespace voltfall {

/// Is the file a circuit: has it parts and wires, or a circuit's section, be it misspelt, and no section of a job; and
/// names it no circuit?
bool holds_circuit(const TomlFile& file);
/// Is the file a lesson: has it `title`, `fault` and `budget`, or without readings one of them (`title` beside no
/// parts)?
bool holds_lesson(const TomlFile& file);

/// Reports a file in which nothing stands but notes; true then.
bool report_empty(const TomlFile& file, Problems& problems);

/// Reports a file that is neither a circuit nor a job nor a lesson: it names no circuit and has none of their sections;
/// true then.
bool report_strange_file(const TomlFile& file, Problems& problems);

/// Reports a file without `format = 1` at its top.
void check_format(const TomlFile& file, Problems& problems);

/// The keys before the first section of a job or lesson.
class FileTop {
public:
    /// `kind` is "job" or "lesson", for messages.
    FileTop(const TomlFile& file, std::string_view kind, Problems& problems)
        : file_(file), kind_(kind), problems_(problems) {}

    /// Null where the key is not there.
    const TomlEntry* entry(std::string_view key) const;
    /// Could the key's line not be read? That is reported already.
    bool lost(std::string_view key) const;
    /// Is the key not there, but one that `check_keys` took for it? That is reported already.
    bool is_misspelt(std::string_view key) const;
    /// The file as a place, for what is missing in it.
    SourcePlace whole_file() const;
    void error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion = {}) const;

    /// Reports keys that are none of `known`. The advice lists `told` where no known key is near, then says `more`.
    void check_keys(std::span<const std::string_view> known, std::span<const std::string_view> told,
                    std::string_view more = {});

    /// Reads the circuit that the file names, a path from the file's folder, and reports its problems. The path is
    /// empty where there is no such file. Without a source the file is read.
    struct NamedCircuit {
        std::string path;
        std::shared_ptr<const Circuit> circuit;  ///< null where it has errors
    };
    NamedCircuit read_circuit(const CircuitSource& source = {}) const;

private:
    std::string named_path() const;
    bool report_named_job(const TomlFile& named) const;

    const TomlFile& file_;
    std::string_view kind_;
    Problems& problems_;
    std::vector<std::string> meant_;  ///< keys that misspelt ones come near to
};

}  // namespace voltfall
