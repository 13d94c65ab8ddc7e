// The pages of a class: a learner's way in, the list of lessons, a bench, and what the teacher sees.
#pragma once

#include <string>
#include <vector>

#include "cli/serve/learner_bench.hpp"

namespace voltfall {

/// A lesson in a list.
struct ListedLesson {
    std::string stem;
    std::string title;
    int level{1};
    double budget_minutes{};
    std::string state;    ///< "not begun", "4 min; hi, key run", "SOLVED"
    std::string problem;  ///< why it cannot be worked; else empty
};

/// Asks for the learner's initials; `message` says what was wrong with those typed.
std::string who_page(const std::string& message);
/// Someone works under these initials already.
std::string taken_page(const std::string& who);
/// `jobs`: do jobs stand beside them, at "/jobs"? Also of the teacher's page.
std::string lessons_page(const std::string& who, const std::vector<ListedLesson>& lessons, bool jobs);

struct BenchPage {
    const LearnerBench* bench{nullptr};
    std::string message;  ///< what was wrong with the last line
    std::string suspect;  ///< as typed with a line that was not taken
    std::string line;     ///< that line
    std::string drawing;  ///< SVG of the sound circuit
};
/// While the exercise goes on nothing of what is hidden stands on it; then the debrief.
std::string bench_page(const BenchPage& page);

/// A learner at a lesson, as the teacher sees it.
struct BenchRow {
    std::string who;
    std::string stem;
    std::string title;
    std::string state;
    std::size_t tests{};
    std::size_t parts{};
    std::size_t hints{};
};
std::string teacher_page(const std::vector<BenchRow>& rows, const std::vector<ListedLesson>& lessons,
                         const std::string& class_address, const std::string& qr_svg, bool jobs);
/// A learner's bench as it stands, for the teacher.
std::string look_page(const LearnerBench& bench);
/// The teacher's sheet of a lesson, with what is hidden.
std::string sheet_page(const std::string& title, const std::string& sheet);

}  // namespace voltfall
