// Reads a lesson file: a circuit, a concern, what hides in it, and what the learner may do.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// How a test of a lesson misleads.
enum class TrapKind {
    blind,   ///< it reads as in the sound circuit although the fault is there
    floats,  ///< a probe stands where nothing holds a voltage: 0 V that prove nothing
    full,    ///< it shows the supply's volts where a beginner expects none (across an open place)
};
std::string_view trap_word(TrapKind kind);

struct LessonTrap {
    Test test;
    TrapKind kind{TrapKind::blind};
    std::string text;  ///< as typed
    std::string why;   ///< what a learner should take from it; may be empty
    SourcePlace place;
};

struct Lesson {
    std::string path;
    std::string circuit_path;
    std::string title;
    std::string concern;
    int level{1};       ///< 1 feedback after each step … 3 only at the end
    std::string skill;  ///< one of `lesson_skills`
    std::string goal;
    std::vector<std::string> serves;        ///< published tasks and units
    std::string meets;                      ///< the misconception that it meets, or empty
    std::vector<Fault> faults;              ///< what failed; empty: nothing is wrong
    std::vector<Fault> roots;               ///< why it failed
    std::vector<SourcePlace> fault_places;  ///< of faults, then of roots; of the word `nothing` where there are none
    SourcePlace budget_place;
    SourcePlace allow_place;  ///< the key's; the whole file where all is allowed
    double budget_minutes{};
    std::vector<std::string> allow;  ///< words of `lesson_actions`; all where the file says nothing
    std::vector<Tool> tools;
    std::vector<LessonTrap> traps;
    bool coach{true};        ///< false: what readings did to the suspects is told at the end only
    std::string reason;      ///< a sentence beside the computed reason, or empty
    std::string afterwards;  ///< one thing to try next, or empty
};

/// Skills that progress is kept by.
std::span<const std::string_view> lesson_skills();
/// Words of `allow`.
std::span<const std::string_view> lesson_actions();

/// Circuit and lesson are null when either has errors.
struct LessonReading {
    std::shared_ptr<const Circuit> circuit;
    std::shared_ptr<const Lesson> lesson;
    Problems problems;
};

/// Reads a lesson and the circuit that it names (relative to the lesson's folder). `fault`, `root`, `traps` and
/// `reason` may be sealed (`sealed_text`).
LessonReading read_lesson_file(const std::string& path);
/// The same of a file that is cut into entries; `problems` has those of its syntax. Without a source the circuit's file
/// is read.
LessonReading read_lesson(const TomlFile& file, Problems problems, const CircuitSource& circuits = {});

/// The text of a lesson file with every text of `fault`, `root`, `traps` and `reason` sealed; the rest as it is.
std::string seal_lesson(std::string_view file_text);

}  // namespace voltfall
