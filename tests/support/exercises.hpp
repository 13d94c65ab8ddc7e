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

inline Reading test_of(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    auto reading = read_test_phrase(TypedText::argument("test", phrase), circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(reading);
    return *reading;
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
