// Results of learners in a local CSV file: lines are only ever added, each whole or not at all.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/lessons/debrief.hpp"
#include "netlists/files/whole_file.hpp"

namespace voltfall {

/// One exercise as it ended.
struct LearnerResult {
    std::string file;  ///< lesson or circuit
    std::string title;
    std::string skill;
    int level{1};
    long long seed{};
    Debrief debrief;
};

/// Columns of the file, also its first line.
std::string progress_header();

/// One line; `date` as "2026-05-01".
std::string progress_line(const LearnerResult& result, const std::string& who, const std::string& date);

/// Appends the line (and the header to a new file): the file is locked, written beside and replaced, so that a full
/// disk or a kill loses nothing that stood there. A half-written last line of another program is closed first. Waits
/// some seconds for another program that changes the file.
std::optional<FileFailure> append_progress(const std::string& path, const std::string& line);

/// Why no result could be added to this file, before a learner begins: it is something else, or may not be written.
std::optional<FileFailure> cannot_append(const std::string& path);

/// Initials: one to four letters.
bool is_initials(const std::string& who);

/// What a learner has done in one skill.
struct SkillRecord {
    std::string who;
    std::string skill;
    int runs{0};
    int solved{0};
    double minutes{0};
    double plan_minutes{0};
    int blind_tests{0};
    int tests{0};
    int wrong_parts{0};
    int guesses{0};
    int unsafe{0};
};

/// By learner and skill, sorted; lines that are broken are left out and counted.
struct ProgressSoFar {
    std::vector<SkillRecord> records;
    std::size_t broken{0};
};
/// A failure where the file cannot be read or is no file of results.
tl::expected<ProgressSoFar, FileFailure> read_progress(const std::string& path);
tl::expected<ProgressSoFar, FileFailure> read_progress_text(const std::string& text);

}  // namespace voltfall
