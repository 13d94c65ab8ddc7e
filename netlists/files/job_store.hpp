// Readings put into a job file and taken out again, one program at a time.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "netlists/files/job_file.hpp"
#include "netlists/files/whole_file.hpp"

namespace voltfall {

/// What became of a change to a job file. Either `key` is set and the file is written, or the file is as it was and
/// one of the others says why.
struct StoredReading {
    std::string key;                         ///< of the reading: "9"
    std::string phrase;                      ///< its words as they are kept, in the order of a reading
    std::shared_ptr<const Circuit> circuit;  ///< null when the file has errors
    std::shared_ptr<const Job> before;       ///< without the reading
    std::shared_ptr<const Job> after;        ///< with it
    std::string text_before;                 ///< the file's bytes, of which the change was made
    std::string text_after;                  ///< as they were written
    Problems file_problems;
    Problems phrase_problems;
    std::optional<FileFailure> failure;
};

/// Under which heading of the job a reading stands.
enum class RepairStage { before, after };

/// Adds a reading to a job file. A phrase that does not read, or a file with errors, changes nothing. Waits some
/// seconds for another program that changes the same file.
StoredReading store_reading(const std::string& path, const TypedText& phrase, RepairStage stage = RepairStage::before);

/// Takes a reading out of a job file; `before` has it, `after` does not.
StoredReading remove_reading(const std::string& path, const std::string& key);

}  // namespace voltfall
