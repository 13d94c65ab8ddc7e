#include "netlists/files/lesson_file.hpp"

#include <filesystem>
#include <fstream>

#include <unistd.h>

#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/sealed_text.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// A folder with the example circuit and one lesson, gone at the end.
class LessonFolder {
public:
    LessonFolder() : path_(std::filesystem::temp_directory_path() / ("voltfall-lesson-" + std::to_string(::getpid()))) {
        std::filesystem::create_directories(path_);
        std::filesystem::copy_file(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml", path_ / "bookmobile.toml",
                                   std::filesystem::copy_options::overwrite_existing);
    }
    ~LessonFolder() { std::filesystem::remove_all(path_); }
    LessonFolder(const LessonFolder&) = delete;
    LessonFolder& operator=(const LessonFolder&) = delete;

    LessonReading read(const std::string& text) const {
        std::ofstream(path()) << text;
        return read_lesson_file(path());
    }
    std::string path() const { return (path_ / "lesson.toml").string(); }

private:
    std::filesystem::path path_;
};

const std::string whole_lesson = R"(format  = 1
circuit = "bookmobile.toml"
title   = "Only high works"
concern = "no air on the three lower settings"
level   = 1
fault   = ["R1 limiter open"]
root    = ["M1 drag 1.4"]
budget  = "25min"
allow   = ["look", "volts", "drop", "amps", "ohms", "lamp"]
traps   = ["hi  C304.1 to B1-  blind: high goes round the pack"]
)";

std::string with(const std::string& from, const std::string& to) {
    std::string text = whole_lesson;
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::vector<std::string> messages(const LessonReading& reading) {
    std::vector<std::string> list;
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity == Severity::error) list.push_back(problem.message);
    }
    return list;
}

const Problem& only_error(const LessonReading& reading) {
    const Problem* found = nullptr;
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity != Severity::error) continue;
        INFO(problem.message);
        REQUIRE(found == nullptr);
        found = &problem;
    }
    REQUIRE(found != nullptr);
    return *found;
}

}  // namespace

TEST_CASE("a lesson says what hides, what is allowed and how it misleads") {
    const LessonFolder folder;
    const LessonReading reading = folder.read(whole_lesson);
    INFO(all_problems(reading.problems));
    REQUIRE(reading.lesson);
    const Lesson& lesson = *reading.lesson;
    CHECK(lesson.title == "Only high works");
    CHECK(lesson.level == 1);
    REQUIRE(lesson.faults.size() == 1);
    CHECK(write_fault(*reading.circuit, lesson.faults[0]) == "R1 limiter open");
    REQUIRE(lesson.roots.size() == 1);
    CHECK(lesson.roots[0].size == 1.4);
    CHECK(lesson.budget_minutes == 25);
    CHECK(lesson.allow.size() == 6);
    CHECK(lesson.tools.size() == 3);
    REQUIRE(lesson.traps.size() == 1);
    CHECK(lesson.traps[0].kind == TrapKind::blind);
    CHECK(lesson.traps[0].why == "high goes round the pack");
    CHECK(lesson.coach);
}

TEST_CASE("an unknown key suggests the nearest one") {
    const LessonFolder folder;
    const LessonReading reading = folder.read(with("budget  =", "budgit  ="));
    const auto list = messages(reading);
    REQUIRE(list.size() == 1);
    CHECK(list[0] == "'budgit' is no key of a lesson");
    CHECK(reading.problems.list()[0].place.line == 8);
    CHECK(reading.problems.list()[0].suggestion == "did you mean 'budget'?");
}

TEST_CASE("a wrong level, time, action, fault and trap are each found") {
    const LessonFolder folder;
    const auto message = [&](const std::string& from, const std::string& to) {
        return only_error(folder.read(with(from, to))).message;
    };
    CHECK(message("title   = \"Only high works\"\n", "") == "the lesson says no 'title'");
    CHECK(message("level   = 1", "level   = 4") == "the level is the number 4; it must be the number 1, 2 or 3");
    CHECK(message("\"25min\"", "\"25V\"") == "'25V' is no time");
    CHECK(message("\"look\"", "\"lok\"") == "'lok' is no action of a lesson");
    CHECK(message("R1 limiter open", "R9 limiter open").find("R9") != std::string::npos);
    CHECK(message("blind: high", "misty: high") == "the trap 'hi  C304.1 to B1-  misty' does not say how it misleads");
    CHECK(message("bookmobile.toml", "bokmobile.toml") == "there is no circuit file 'bokmobile.toml'");
    CHECK(message("format  = 1", "format  = 2") == "format is the number 2; this version reads format 1");
}

TEST_CASE("a lesson without a fault says so") {
    const LessonFolder folder;
    CHECK(only_error(folder.read(with("fault   = [\"R1 limiter open\"]\nroot    = [\"M1 drag 1.4\"]\n", ""))).message ==
          "the lesson hides no fault");
    const LessonReading sound = folder.read(
        with("fault   = [\"R1 limiter open\"]\nroot    = [\"M1 drag 1.4\"]\n", "fault   = [\"nothing\"]\n"));
    REQUIRE(sound.lesson);
    CHECK(sound.lesson->faults.empty());
}

TEST_CASE("half a lesson's fault, or one that stands twice, is found") {
    const LessonFolder folder;
    const std::string both = "fault   = [\"R1 limiter open\"]\nroot    = [\"M1 drag 1.4\"]\n";
    CHECK(only_error(folder.read(with(both, "fault   = []\n"))).message == "the lesson hides no fault");
    CHECK(only_error(folder.read(with("\"R1 limiter open\"", "\"\""))).message == "the fault is empty");
    CHECK(
        only_error(folder.read(with("[\"R1 limiter open\"]", "[\"R1 limiter open\", \"R1 limiter open\"]"))).message ==
        "'R1 limiter open' stands twice");
    CHECK(only_error(folder.read(with("\"M1 drag 1.4\"", "\"R1 limiter open\""))).message ==
          "'R1 limiter open' stands twice");
    CHECK(only_error(folder.read(with("\"25min\"", "\"0min\""))).message == "'0min' must be more than zero");
    CHECK(only_error(folder.read(with("\"25min\"", "\"1e20min\""))).message ==
          "'1e20min' cannot be the budget of a lesson; expected 1s to 10000min");
}

TEST_CASE("a sealed lesson reads as the open one and shows nothing at a glance") {
    const LessonFolder folder;
    const std::string sealed = seal_lesson(whole_lesson);
    CHECK(sealed.find("limiter") == std::string::npos);
    CHECK(sealed.find("drag") == std::string::npos);
    CHECK(sealed.find("C304.1") == std::string::npos);
    CHECK(sealed.find("Only high works") != std::string::npos);
    CHECK(seal_lesson(sealed) == sealed);
    const LessonReading reading = folder.read(sealed);
    INFO(all_problems(reading.problems));
    REQUIRE(reading.lesson);
    CHECK(write_fault(*reading.circuit, reading.lesson->faults.at(0)) == "R1 limiter open");
    CHECK(reading.lesson->traps.at(0).why == "high goes round the pack");
}

TEST_CASE("text is unsealed to what was sealed, and a changed seal is refused") {
    for (const std::string text : {"", "R1 limiter open", "542 chafe 15mohm at 60%", "a \"quoted\" word, ümlaut"}) {
        const std::string sealed = seal_text(text);
        CHECK(is_sealed(sealed));
        CHECK(unseal_text(sealed) == text);
    }
    std::string changed = seal_text("R1 limiter open");
    changed[12] = changed[12] == 'a' ? 'b' : 'a';
    CHECK(unseal_text(changed) == std::nullopt);
    CHECK(unseal_text("R1 limiter open") == std::nullopt);
    CHECK(unseal_text("sealed:!!") == std::nullopt);
}

TEST_CASE("tests are readings without their value, in the words of the bench too") {
    const Circuit& circuit = cab_blower();
    const auto read = [&](const std::string& phrase) {
        Problems problems;
        const auto test = read_test_phrase(TypedText::argument("test", phrase), circuit, problems);
        INFO(phrase << "\n" << all_problems(problems));
        REQUIRE(test);
        return write_tested(circuit, test->tested);
    };
    CHECK(read("hi  M1.1 to B1-") == "M1.1 to B1-");
    CHECK(read("M1.1") == "M1.1 to B1-");
    CHECK(read("volts C304.1 to B1-") == "C304.1 to B1-");
    CHECK(read("hi drop C101.4") == "across C101.4");
    CHECK(read("hi volts across C101.4") == "across C101.4");
    CHECK(read("hi drop C101.4@541 to C101.4@542") == "C101.4@541 to C101.4@542");
    CHECK(read("hi amps 542") == "clamp 542");
    CHECK(read("hi, clamp 542") == "clamp 542");
    CHECK(read("unplug C303, ohms R1.1 to R1.4") == "ohms R1.1 to R1.4");
    CHECK(read("beep R1.1 to R1.4") == "beep R1.1 to R1.4");
    CHECK(read("hi lamp M1.1 to B1-") == "lamp M1.1 to B1-");
    CHECK(read("off, lamp in F7, F7.2@541 to C101.4@541") == "F7.2@541 to C101.4@541");
    CHECK(read("F7") == "fuse F7");
    CHECK(read("fuse F7") == "fuse F7");
    CHECK(read("hi K3") == "relay K3");
    CHECK(read("hi blower") == "blower");
    CHECK(read("hi M1") == "M1");
    CHECK(read("look C101") == "look C101");
    Problems problems;
    CHECK_FALSE(read_test_phrase(TypedText::argument("test", "make it so"), circuit, problems));
    CHECK(problems.has_errors());
}
