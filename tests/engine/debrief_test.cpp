// What is told when an exercise is over: what proves a repair, and what to try next.
#include "engine/lessons/debrief.hpp"

#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// A third of an ohm in one pin of the bulkhead plug, and what a learner did about it.
Debrief debrief_after(const std::vector<std::string>& lines) {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    LearnerRun run(solver(), exercise, quick());
    for (const std::string& line : lines) {
        INFO(line);
        REQUIRE(act(run, line).outcome.result == ActionResult::done);
    }
    run.hand_back();
    return debrief_of(solver(), run, nullptr);
}

}  // namespace

TEST_CASE("a repair is proved by a reading after the last of the repairs, not before it") {
    const Debrief proved = debrief_after({"hi C304.1 to B1-", "repair C101.4", "hi C304.1 to B1-"});
    CHECK(proved.proved);
    CHECK_THAT(proved.proof, Catch::Contains("C304.1 to B1- gave"));
    const Debrief repaired_again =
        debrief_after({"hi C304.1 to B1-", "repair C101.4", "hi C304.1 to B1-", "repair G201"});
    CHECK_FALSE(repaired_again.proved);
    CHECK_THAT(repaired_again.proof, Catch::Contains("not taken"));
    CHECK(debrief_after({"hi C304.1 to B1-", "repair C101.4", "hi C304.1 to B1-", "repair G201", "hi C304.1 to B1-"})
              .proved);
    // A new part is work as well.
    CHECK_FALSE(debrief_after({"repair C101.4", "hi C304.1 to B1-", "new M1"}).proved);
    // What could not have shown the fault proves nothing.
    CHECK_FALSE(debrief_after({"repair C101.4", "off C304.1 to B1-"}).proved);
}

TEST_CASE("more blind tests than others earn the advice to ask before each what it would show; half of them do not") {
    const std::string advice = "before each test, say what it must read if your suspect is guilty, and what if not";
    const Debrief half = debrief_after({"hi C304.1 to B1-", "off C304.1 to B1-", "repair C101.4"});
    CHECK(half.figures.tests == 2);
    CHECK(half.figures.blind_tests == 1);
    CHECK(half.afterwards != advice);
    const Debrief most = debrief_after({"hi C304.1 to B1-", "off C304.1 to B1-", "fuse F7", "repair C101.4"});
    CHECK(most.figures.tests == 3);
    CHECK(most.figures.blind_tests == 2);
    CHECK(most.afterwards == advice);
}
