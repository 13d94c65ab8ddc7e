// What is told when an exercise is over.
#pragma once

#include <string>
#include <vector>

#include "engine/lessons/learner_run.hpp"
#include "engine/lessons/lesson_plan.hpp"

namespace voltfall {

enum class Verdict {
    solved,       ///< all mended, the cause too
    cause_left,   ///< what failed is mended, what made it fail is not
    not_mended,   ///< the vehicle goes back with its fault
    false_alarm,  ///< nothing was wrong, and something was mended
    unsafe,
};
std::string_view verdict_word(Verdict verdict);

struct DebriefStep {
    std::string test;
    std::string value;
    double minutes{};
    std::string suspect;  ///< named before, or empty
    std::optional<double> bits;
    std::vector<std::string> ruled_out;
    std::string blind;  ///< why it could not have shown the fault, or empty
    bool repeated{false};
    bool untouched{false};     ///< the probe had not touched
    bool lamp_section{false};  ///< a section's millivolts with a lamp in the fuse's seat
    bool is_work{false};       ///< a part fitted or a place mended: `test` says which
    bool after_work{false};    ///< taken after the first repair
    bool guess{false};         ///< of work: no reading spoke for it
};

/// Figures of a run, each by itself.
struct DebriefFigures {
    double minutes{};
    double plan_minutes{};
    bool plan_solved{false};
    double budget_minutes{};
    std::size_t parts{};
    std::size_t plan_parts{};
    std::vector<std::string> wrong_parts;  ///< fitted, and nothing was mended by them
    std::vector<std::string> unwarranted;  ///< repairs that the readings did not speak for
    std::size_t blind_tests{};
    std::size_t tests{};
    std::size_t hints{};
    bool risk{false};  ///< ended by an unsafe action
};

struct Debrief {
    Verdict verdict{Verdict::not_mended};
    std::string sentence;             ///< what the verdict means here
    std::vector<std::string> hidden;  ///< "R1 limiter open"
    std::vector<std::string> roots;
    std::vector<DebriefStep> steps;  ///< in the order done
    DebriefFigures figures;
    std::vector<std::string> plan;    ///< what the tool would have done, as typed
    std::vector<std::string> reason;  ///< the electrical reason
    std::string own_numbers;          ///< the learner's reading that shows it best
    bool proved{false};               ///< a reading after the repair that the fault would have spoiled
    std::string proof;                ///< the reading taken that proves the repair, or the one to take
    std::string afterwards;           ///< one thing to try next
};

/// Below this share of probability a repair is a guess.
inline constexpr double warranted_from = 0.5;
/// The same of the word that nothing is wrong.
inline constexpr double nothing_from = 0.25;

/// `plan` may be null: then its figures are 0 and nothing is said of it.
Debrief debrief_of(Simulator& simulator, LearnerRun& run, const LessonPlan* plan);

}  // namespace voltfall
