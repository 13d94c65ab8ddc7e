// Readings put into a job file and taken out again, one program at a time.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "netlists/files/job_file.hpp"
#include "netlists/files/whole_file.hpp"

namespace voltfall {

/// What became of a change to a job file. Either `key` is set and the file is written, or the file is as it was and
/// one of the others says why.
struct StoredReading {
    std::string key;                         ///< of the last reading: "9"
    std::string phrase;                      ///< the words as they are kept, in the order of a reading; parted by ;
    std::vector<std::string> keys;           ///< of all readings of this change
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

/// Adds a reading to a job file, or the readings of a line that is several. A phrase that does not read, or a file with
/// errors, changes nothing. Waits some seconds for another program that changes the same file.
StoredReading store_reading(const std::string& path, const TypedText& phrase, RepairStage stage = RepairStage::before);

/// Adds the readings of several such phrases, all or none.
StoredReading store_readings(const std::string& path, const std::vector<std::string>& phrases,
                             RepairStage stage = RepairStage::before);

/// Writes down what was repaired: a place and the words about it, "C101.4 new terminal"; its key is the place.
StoredReading store_repair(const std::string& path, const std::string& phrase);
StoredReading remove_repair(const std::string& path, const std::string& place);

/// Takes readings out of a job file, all or none; `before` has them, `after` does not.
StoredReading remove_readings(const std::string& path, const std::vector<std::string>& keys,
                              RepairStage stage = RepairStage::before);
StoredReading remove_reading(const std::string& path, const std::string& key);

}  // namespace voltfall
