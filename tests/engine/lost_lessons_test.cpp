// Solves that have no solution while someone works at a vehicle: what cannot be measured is said, and nobody is told
// that a fault is mended which is not.
#include <fmt/format.h>
#include <set>

#include "engine/lessons/debrief.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/lesson_check.hpp"
#include "engine/lessons/reason.hpp"
#include "engine/lessons/symptoms.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/lost_solves.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// Lines of an exercise, one after the other, and what each came to.
std::vector<std::string> outcomes_of(Simulator& simulator, const Exercise& exercise,
                                     const std::vector<std::string>& lines) {
    std::vector<std::string> told;
    LearnerRun run(simulator, exercise, quick());
    for (const std::string& line : lines) {
        const ActionOutcome& outcome = act(run, line).outcome;
        told.push_back(outcome.measured ? outcome.measured->shown : outcome.message + outcome.what);
    }
    return told;
}

}  // namespace

TEST_CASE("what cannot be measured for want of a solution is refused, and never shown as another value") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    for (const std::string line :
         {"hi, M1.1 to B1-", "hi, across C101.4", "hi, clamp 542", "hi, M1", "hi, K3", "fuse F7", "new F7 fuse F7",
          "hi, lamp M1.1 to B1-", "unplug C303, ohms R1.1 to R1.4", "unplug C303, beep R1.1 to R1.4", "hi, C101 rise",
          "lamp in F7, hi, across C101.4", "hi, jumper SP1 to G201, M1"}) {
        Problems problems;
        const auto test = read_test_phrase(TypedText::argument("test", line), *circuit, problems);
        INFO(line << "\n" << all_problems(problems));
        REQUIRE(test);
        const auto taken = [&](Simulator& simulator) {
            Technician technician(simulator, exercise.found, exact_meters(), usual_tools());
            const auto measured = technician.measure(*test);
            return measured ? measured->shown : "failure: " + measured.error().why;
        };
        const std::string right = taken(solver());
        CHECK_FALSE(right.starts_with("failure"));
        for (long lost = 1;; ++lost) {
            LostSolves simulator(lost);
            const std::string now = taken(simulator);
            if (!simulator.has_lost()) break;
            INFO("solve " << lost << ": " << now << " for " << right);
            CHECK((now == right || now.find("lost on purpose") != std::string::npos));
        }
    }
}

TEST_CASE("a bench with lost solves refuses or shows what is so") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    const std::vector<std::string> lines{"hi, M1.1 to B1-", "off, M1", "lamp M1.1 to B1-", "new F7", "hi, clamp 542",
                                         "repair C101.4",   "hi, M1"};
    const std::vector<std::string> right = outcomes_of(solver(), exercise, lines);
    for (long lost = 1;; lost += 5) {
        LostSolves simulator(lost);
        const std::vector<std::string> now = outcomes_of(simulator, exercise, lines);
        if (!simulator.has_lost()) break;
        for (std::size_t i = 0; i < lines.size(); ++i) {
            INFO("solve " << lost << ", " << lines[i] << ": " << now[i] << " for " << right[i]);
            CHECK((now[i] == right[i] || now[i].find("lost on purpose") != std::string::npos || now[i] == "fitted F7" ||
                   now[i] == "dead"));
        }
    }
}

TEST_CASE("a learner who has mended nothing is not told so by a lost solve") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"R1 limiter open"}, {"M1 fouled 1.1"});
    LearnerRun run(solver(), exercise, quick());
    for (const char* line : {"hi, clamp 542", "lo, M1.1 to B1-", "new S1", "lo, M1"}) act(run, line);
    run.hand_back();
    const Debrief right = debrief_of(solver(), run, nullptr);
    REQUIRE(right.verdict == Verdict::not_mended);
    for (long lost = 1;; lost += 5) {
        LostSolves simulator(lost);
        const Debrief now = debrief_of(simulator, run, nullptr);
        if (!simulator.has_lost()) break;
        INFO("solve " << lost);
        CHECK(now.verdict == right.verdict);
        CHECK_FALSE(now.proved);
        CHECK(now.figures.blind_tests <= right.figures.blind_tests);
        CHECK((now.own_numbers == right.own_numbers || now.own_numbers.empty() ||
               now.own_numbers.find("a sound vehicle gives") != std::string::npos));
    }
}

TEST_CASE("the electrical reason is told of the states that have a solution") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    for (const Exercise& exercise :
         {exercise_with(circuit, {"C101.4 resistance 0.3ohm"}), exercise_with(circuit, {}, {"M1 drag 1.4"})}) {
        const std::vector<std::string> right = electrical_reason(solver(), exercise);
        REQUIRE_FALSE(right.empty());
        std::set<std::size_t> sizes;
        for (const long every : {1L, 2L, 5L, 0L}) {
            for (const long lost : {1L, 3L, 6L, 11L, 40L}) {
                LostSolves simulator(lost, every);
                const std::vector<std::string> now = electrical_reason(simulator, exercise);
                INFO(lost << ", " << every);
                CHECK(now.size() <= right.size());
                for (const std::string& sentence : now) {
                    INFO(sentence);
                    CHECK((sentence.find("at ") == 0 || sentence.find("M1 drag 1.4") == 0));
                }
                sizes.insert(now.size());
            }
        }
        CHECK(sizes.contains(0));
        CHECK(sizes.contains(right.size()));
    }
}

TEST_CASE("why a test is blind is not guessed where its answer is lost") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    for (const char* phrase : {"off, M1.1 to B1-", "off, across C101.4", "hi, F7.2 to B1-"}) {
        const Test test = test_of(*circuit, phrase);
        const auto right = why_blind(solver(), exercise, test);
        REQUIRE(right);
        for (long lost = 1;; ++lost) {
            LostSolves simulator(lost);
            const auto now = why_blind(simulator, exercise, test);
            if (!simulator.has_lost()) break;
            INFO(phrase << ", solve " << lost << ": " << now.value_or("-") << " for " << *right);
            CHECK((!now || now->find("the same with and without") != std::string::npos ||
                   now->find("nothing runs") != std::string::npos || *now == *right));
        }
    }
}

TEST_CASE("a lesson is not let through because its trial could not be solved") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Lesson lesson = exercise_with(circuit, {"C101.4 resistance 20mohm"}).lesson;
    const auto errors = [&](Simulator& simulator) {
        std::string text;
        const Problems found = check_lesson(simulator, circuit, lesson, MatchOptions{});
        for (const Problem& problem : found.list()) text += problem.message + "; ";
        return text;
    };
    CHECK_THAT(errors(solver()), Catch::Contains("no driver would notice"));
    for (const long every : {1L, 3L, 10L}) {
        LostSolves simulator(1, every);
        CHECK_FALSE(errors(simulator).empty());
    }
    LostSolves none(1, 1);
    CHECK_FALSE(draw_exercise(none, circuit, 1, 1));
}

TEST_CASE("a lead that is not safe is never put on because a solve was lost") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    const std::string line = "hi, jumper M1.1 to G201, M1";
    Bench sound(solver(), exercise);
    REQUIRE(act(sound, line).result == ActionResult::unsafe);
    int refused = 0;
    for (long lost = 1; lost < 40; ++lost) {
        LostSolves simulator(lost, 1);
        Bench bench(simulator, exercise);
        const ActionOutcome outcome = act(bench, line);
        INFO("solve " << lost << ": " << outcome.message);
        CHECK(outcome.result != ActionResult::done);
        refused += outcome.result == ActionResult::refused ? 1 : 0;
    }
    CHECK(refused > 0);
}
