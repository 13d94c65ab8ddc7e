// Exercises made up for tests, and technicians without error.
#pragma once

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "engine/lessons/exercise.hpp"
#include "engine/lessons/learner_run.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::testing {

inline Exercise exercise_with(const std::shared_ptr<const Circuit>& circuit, const std::vector<std::string>& faults,
                              const std::vector<std::string>& roots = {}, std::uint64_t seed = 1, int level = 1) {
    Lesson lesson;
    lesson.title = "test";
    lesson.concern = "test";
    lesson.level = level;
    lesson.skill = std::string(lesson_skills().front());
    lesson.budget_minutes = 60;
    lesson.allow.assign(lesson_actions().begin(), lesson_actions().end());
    lesson.tools = usual_tools();
    for (const std::string& phrase : faults) lesson.faults.push_back(faults_named(*circuit, phrase).front());
    for (const std::string& phrase : roots) lesson.roots.push_back(faults_named(*circuit, phrase).front());
    return exercise_of(solver(), circuit, lesson, seed);
}

inline Test test_of(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    auto test = read_test_phrase(TypedText::argument("test", phrase), circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(test);
    return *test;
}

inline Action action_of(const Circuit& circuit, const std::string& line) {
    Problems problems;
    auto action = read_action_phrase(TypedText::argument("line", line), circuit, problems);
    INFO(line << "\n" << all_problems(problems));
    REQUIRE(action);
    return *action;
}

inline ActionOutcome act(Bench& bench, const std::string& line) {
    return bench.act(action_of(bench.circuit(), line));
}
inline const RunStep& act(LearnerRun& run, const std::string& line) {
    return run.act(action_of(*run.exercise().circuit, line));
}

/// What the instrument showed, as a job's line has it.
inline std::string value_of(const Circuit& circuit, const Measured& measured) {
    return write_value(circuit, measured.reading.measurement);
}
inline double number_shown(const Measured& measured) {
    const ReadValue* value = number_of(measured.reading.measurement);
    REQUIRE(value);
    return value->low;
}

inline Technician exact(const Circuit& circuit, const std::vector<Fault>& faults) {
    return Technician(solver(), Vehicle{&circuit, faults, {}}, exact_meters(), usual_tools());
}

inline double volts_of(Technician& technician, const std::string& phrase) {
    const auto measured = technician.measure(test_of(*technician.vehicle().circuit, phrase));
    INFO(phrase);
    REQUIRE(measured);
    REQUIRE(measured->unit == Unit::volt);
    return measured->truth;
}

inline RunOptions quick() {
    RunOptions options;
    options.commit = false;
    options.weigh = false;
    options.match.workers = 2;
    return options;
}

inline std::vector<std::string> lesson_paths() {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(PROJECT_DIR "/scenarios/lessons")) {
        if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    }
    std::sort(paths.begin(), paths.end());
    return paths;
}

}  // namespace voltfall::testing
