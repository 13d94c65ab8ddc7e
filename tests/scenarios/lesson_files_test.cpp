// Every lesson is solved by the tool's own plan inside its budget, answers what it allows, and has its traps.
#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "engine/lessons/lesson_check.hpp"
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/lesson_file.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("every lesson is fair") {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(PROJECT_DIR "/scenarios/lessons")) {
        if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    }
    std::sort(paths.begin(), paths.end());
    REQUIRE(paths.size() >= 20);
    for (const std::string& path : paths) {
        const LessonReading reading = read_lesson_file(path);
        INFO(path << "\n" << all_problems(reading.problems));
        REQUIRE(reading.lesson);
        CHECK_FALSE(check_wiring(*reading.circuit).has_errors());
        const Problems problems = check_lesson(solver(), reading.circuit, *reading.lesson, MatchOptions{});
        INFO(all_problems(problems));
        CHECK_FALSE(problems.has_errors());
    }
}
