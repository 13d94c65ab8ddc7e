// What a learner's work mends, what a reading told, and what counts as the same test again.
#include "engine/lessons/belief.hpp"
#include "engine/lessons/debrief.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/lesson_plan.hpp"
#include "engine/lessons/symptoms.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// All belief on two places of the cab blower.
Belief between(const Circuit& circuit, double first, double second) {
    Belief belief;
    belief.modes.assign(circuit.modes.size(), 0);
    for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
        if (circuit.modes[i]->phrase() == "C101.4 resistance") belief.modes[i] = first;
        if (circuit.modes[i]->phrase() == "M1 open") belief.modes[i] = second;
    }
    return belief;
}

}  // namespace

TEST_CASE("a fuse of another rating than the diagram's does not go in: a larger is unsafe, a smaller refused",
          "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}));
    const ActionOutcome smaller = act(bench, "new F7 20A");
    CHECK(smaller.result == ActionResult::refused);
    CHECK_THAT(smaller.message, Catch::Contains("the diagram says 40 A"));
    CHECK(bench.bill().parts.empty());
    CHECK(act(bench, "new F7 40A").result == ActionResult::done);
    CHECK(act(bench, "new F7 60A").result == ActionResult::unsafe);
}

TEST_CASE("a plug repaired as a whole mends what its cavities have, another plug does not", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}));
    CHECK(act(bench, "repair C303").result == ActionResult::done);
    CHECK_FALSE(all_mended(bench.vehicle()));
    CHECK(act(bench, "repair C101").result == ActionResult::done);
    CHECK(all_mended(bench.vehicle()));
    CHECK(bench.bill().cured == std::vector<std::string>{"C101"});
    const std::vector<RepairShare> shares{{"C101.4", 0.6}, {"C101.2", 0.1}, {"C1014", 0.2}, {"M1", 0.1}};
    CHECK(share_mended_by(shares, "C101") == Approx(0.7));
    CHECK(share_mended_by(shares, "C101.4") == Approx(0.6));
}

TEST_CASE("a reading tells the bits by which belief has moved (Kullback-Leibler)") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Belief even = between(*circuit, 0.5, 0.5);
    CHECK(bits_told(*circuit, even, between(*circuit, 1, 0)) == Approx(1));
    // 0.75 log2(1.5) + 0.25 log2(0.5).
    CHECK(bits_told(*circuit, even, between(*circuit, 0.75, 0.25)) == Approx(0.18872).epsilon(1e-4));
    CHECK(bits_told(*circuit, even, even) == Approx(0).margin(1e-12));
}

TEST_CASE("the same test again is a repetition, but for a zero, where the probe may not have touched") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    LearnerRun run(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}), quick());
    CHECK_FALSE(act(run, "off K3.87 to B1-").repeated);
    REQUIRE(run.steps().back().outcome.measured);
    CHECK(std::abs(run.steps().back().outcome.measured->truth) < 0.05);
    CHECK_FALSE(act(run, "off K3.87 to B1-").repeated);
    CHECK_FALSE(act(run, "hi C304.1 to B1-").repeated);
    CHECK(act(run, "hi C304.1 to B1-").repeated);
    // After a repair it is another vehicle.
    act(run, "repair C101.4");
    CHECK_FALSE(act(run, "hi C304.1 to B1-").repeated);
}

TEST_CASE("a repair that no reading speaks for is a guess") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    RunOptions options = quick();
    options.weigh = true;
    LearnerRun run(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}), options);
    act(run, "repair G201");
    run.hand_back();
    const Debrief debrief = debrief_of(solver(), run, nullptr);
    CHECK(debrief.figures.unwarranted == std::vector<std::string>{"G201"});
}

TEST_CASE("one fuse has to go in for one that blew; what is spent before its cause is mended is for nothing") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {}, {"542 chafe 15mohm at 60%"});
    const auto wrong_parts = [&](const std::vector<std::string>& lines) {
        LearnerRun run(solver(), exercise, quick());
        for (const std::string& line : lines) act(run, line);
        run.hand_back();
        return debrief_of(solver(), run, nullptr).figures.wrong_parts;
    };
    CHECK(wrong_parts({"repair 542", "new F7"}).empty());
    CHECK(wrong_parts({"new F7", "repair 542", "new F7"}) == std::vector<std::string>{"F7"});
    CHECK(wrong_parts({"new F7", "new F7", "repair 542", "new F7"}) == std::vector<std::string>{"F7", "F7"});
}

TEST_CASE("what shows only while its place is moved is kept as sometimes so") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {"C101.4 open when bump"}));
    REQUIRE(act(bench, "hi, wiggle C101  M1").measured);
    REQUIRE(bench.job().readings.size() == 1);
    CHECK(bench.job().readings.back().state.sometimes);
    REQUIRE(act(bench, "hi, wiggle C303  M1").measured);
    REQUIRE(bench.job().readings.size() == 2);
    CHECK_FALSE(bench.job().readings.back().state.sometimes);
}

TEST_CASE("two readings differ by more than the meter may be off, or not at all") {
    const auto volts = [](double truth) {
        Measured measured;
        measured.unit = Unit::volt;
        measured.truth = truth;
        return measured;
    };
    // 0.8 % of 13.7 V and three digits of 10 mV: 0.14 V.
    CHECK_FALSE(tells_apart(volts(13.6), volts(13.7), usual_tools()));
    CHECK(tells_apart(volts(13.5), volts(13.7), usual_tools()));
}

TEST_CASE("a fault that grows in the heat shows with its hot size once it is hot", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const std::vector<Fault> faults = faults_named(*circuit, "C101.4 resistance 5mohm, hot 0.6ohm");
    const Vehicle cold{circuit.get(), faults, {}};
    CHECK_FALSE(anything_wrong(symptoms_of(solver(), cold)));
    const Vehicle hot = with_conditions_met(cold);
    REQUIRE(hot.faults.size() == 1);
    CHECK(hot.faults.front().size == Approx(0.6));
    CHECK(anything_wrong(symptoms_of(solver(), hot)));
}
