// What the trial of a lesson finds in it, and what is drawn at random.
#include <set>

#include "engine/lessons/file_check.hpp"
#include "engine/lessons/lesson_check.hpp"
#include "netlists/text/problem_code.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using Catch::Contains;

namespace {

std::string problems_of(const std::shared_ptr<const Circuit>& circuit, const Lesson& lesson) {
    std::string text;
    const Problems found = check_lesson(solver(), circuit, lesson, MatchOptions{});
    for (const Problem& problem : found.list()) text += problem.message + "; ";
    return text;
}

}  // namespace

TEST_CASE("the trial of a lesson finds what no learner could do, and lets through what one can") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Lesson usual = exercise_with(circuit, {"C101.4 open"}).lesson;
    const auto with_trap = [&](const std::string& phrase, TrapKind kind) {
        Lesson lesson = usual;
        lesson.budget_minutes = 1;  // its plan is not worked to the end
        LessonTrap trap;
        trap.test = test_of(*circuit, phrase);
        trap.kind = kind;
        lesson.traps = {trap};
        return problems_of(circuit, lesson);
    };
    CHECK_THAT(with_trap("off, unplug C304, M1.1 to B1-", TrapKind::floats), !Contains("does not float"));
    CHECK_THAT(with_trap("hi, F7.2 to B1-", TrapKind::floats), Contains("a trap's point does not float"));
    CHECK_THAT(with_trap("hi, across C101.4", TrapKind::full), !Contains("full supply"));
    CHECK_THAT(with_trap("hi, M1.1 to B1-", TrapKind::full), Contains("does not show the full supply"));
    CHECK_THAT(with_trap("unplug C303, ohms R1.1 to R1.4", TrapKind::full), Contains("does not show the full supply"));
    // Amperes are no volts, however many.
    Lesson amps = exercise_with(circuit, {"R1 coil 2-3 open"}).lesson;
    amps.budget_minutes = 1;
    LessonTrap trap;
    trap.test = test_of(*circuit, "hi, clamp 542");
    trap.kind = TrapKind::full;
    amps.traps = {trap};
    CHECK_THAT(problems_of(circuit, amps), Contains("does not show the full supply"));
}

TEST_CASE("a root must lead to what failed, and burn something where nothing else is hidden") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const struct {
        std::vector<std::string> faults;
        std::vector<std::string> roots;
        bool leads;
        const char* problem;
    } rows[] = {{{"F7 blown"}, {"542 chafe 15mohm at 60%"}, true, "the root does not lead"},
                {{"F12 blown"}, {"542 chafe 15mohm at 60%"}, false, "the root does not lead"},
                {{"R1 limiter open"}, {"M1 drag 1.4"}, true, "the root does not lead"},
                {{"C101.4 resistance 0.3ohm"}, {"M1 drag 1.4"}, true, "the root does not lead"},
                {{}, {"C101.4 resistance 0.3ohm"}, false, "the root burns nothing"},
                {{}, {"M1 drag 1.4"}, true, "the root burns nothing"}};
    for (const auto& row : rows) {
        Lesson lesson = exercise_with(circuit, row.faults, row.roots).lesson;
        lesson.faults.clear();
        for (const std::string& fault : row.faults) lesson.faults.push_back(faults_named(*circuit, fault).front());
        lesson.budget_minutes = 1;
        const std::string told = problems_of(circuit, lesson);
        INFO(row.roots.front() << ": " << told);
        CHECK((told.find(row.problem) == std::string::npos) == row.leads);
    }
}

TEST_CASE("what a lesson allows must have answers; what it does not allow is not asked for") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Lesson lesson = exercise_with(circuit, {"C101.4 resistance 5mohm, hot 0.6ohm"}).lesson;
    lesson.budget_minutes = 1;
    for (const std::vector<std::string>& allow :
         {std::vector<std::string>{"volts", "new"}, {"ohms", "new"}, {"amps", "fuse", "new"}}) {
        lesson.allow = allow;
        const std::string told = problems_of(circuit, lesson);
        INFO(allow.front() << ": " << told);
        CHECK(told.find("is allowed, but") == std::string::npos);
    }
    // Nobody unplugs what is sealed.
    const auto sealed = cab_blower_with("[care]", "[closed]\nC305 = \"sealed\"\n[care]");
    Lesson unplugs = exercise_with(sealed, {"C101.4 open"}).lesson;
    unplugs.budget_minutes = 1;
    unplugs.allow = {"volts", "ohms", "unplug", "new"};
    CHECK(problems_of(sealed, unplugs).find("is allowed, but") == std::string::npos);
    // A size that the heat brings is no size at which nothing is wrong.
    lesson.allow = {"volts", "new"};
    CHECK(problems_of(circuit, lesson).find("changes nothing") == std::string::npos);
}

TEST_CASE("a problem that two files have in one place is told once") {
    SourcePlace place;
    place.line = 7;
    const Problem problem(ProblemCode::no_figure, Severity::warning, place, "wire '1' ends nowhere");
    CheckedFile one;
    one.problems = {problem};
    CheckedFile other = one;
    other.problems.push_back(problem);
    other.problems.back().place.line = 8;
    CheckAnswer answer;
    answer.files = {one, other};
    CHECK(answer.problems().size() == 2);
    CHECK_FALSE(answer.counts());
}

TEST_CASE("exercises drawn at the highest level are sound, conditional, burnt by a cause, or of two faults") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    // Behind a fuse that a held rotor opens, and without a pack that could burn before.
    const auto fan = circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 30A regular, feed 30\"\nM1 = \"motor 20A "
        "@13.5V, 3500rpm, stall 80A\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > M1.1 6mm2 RD 1m\"\n2 = \"M1.2 > G1 "
        "6mm2 BK 1m\"\n");
    std::set<std::string> endings;
    int burnt_fuses = 0;
    for (std::uint64_t seed = 1; seed <= 120; ++seed) {
        const auto drawn = draw_exercise(solver(), seed % 2 == 0 ? circuit : fan, seed, 3);
        REQUIRE(drawn);
        if (drawn->hidden().empty()) {
            const std::string& concern = drawn->lesson.concern;
            endings.insert(concern.substr(concern.rfind("; only ")));
            CHECK(drawn->found.opened.empty());
        }
        if (drawn->lesson.roots.empty()) continue;
        // A cause stands as a cause only where something has burnt of it.
        INFO(seed);
        CHECK((!drawn->lesson.faults.empty() || !drawn->found.opened.empty()));
        burnt_fuses += drawn->lesson.faults.empty() ? 1 : 0;
    }
    CHECK(endings ==
          std::set<std::string>{"; only sometimes, on rough roads", "; only after a while, when everything is warm"});
    CHECK(burnt_fuses > 0);
}
