// A contact that pressure or heat moves may be open because its quantity says so: the system outside the circuit.
#include <algorithm>

#include "engine/diagnosis/match.hpp"
#include "engine/lessons/lesson_plan.hpp"
#include "engine/planning/next.hpp"
#include "engine/readings/quantity_evidence.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// A clutch behind one low-pressure switch: opens at 0.196 MPa, closes at 0.225 MPa (reference parts 3.4, S62).
const std::shared_ptr<const Circuit>& clutch() {
    static const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 15"
S1 = "switch C: off ac=1"
P1 = "contact opens 1.96bar, closes 2.25bar, healthy 2.5bar"
A1 = "clutch 3.6ohm, pulls 7.5V"
G1 = "ground"
[plugs]
P1 = "C5"
A1 = "C6"
[wires]
10 = "F1.2 > S1.C  1.5mm2  BN  1.0m"
11 = "S1.1 > P1.1  1.5mm2  GN  2.0m"
12 = "P1.2 > A1.1  1.5mm2  BK  0.5m"
13 = "A1.2 > G1    1.5mm2  BK  0.3m"
[controls]
S1 = "aircon"
[reach]
F1 = 2
S1 = 10
C5 = 5
C6 = 10
G1 = 5
)");
    return circuit;
}

/// The clutch is dead, and the switch is found open: by its volts, and out of its plug by its ohms.
std::vector<std::string> switch_open() {
    return {"key run, ac  clutch dead", "key run, ac  B1+ to B1- 14.2V", "key run, ac  C5.1 to B1- 14.1V",
            "key run, ac  C5.2 to B1- 0V", "off, unplug C5  P1.1 to P1.2 open"};
}

double chance_of(const MatchAnswer& answer, const std::string& start) {
    double sum = 0;
    for (const Candidate& candidate : answer.candidates) {
        if (candidate.fault.starts_with(start)) sum += candidate.probability;
    }
    return sum;
}

MatchAnswer matched(std::vector<std::string> readings, const std::string& more = {}) {
    if (!more.empty()) readings.push_back(more);
    return match(solver(), *clutch(), job_of(*clutch(), readings));
}

double chance_of_switch(const MatchAnswer& answer) {
    return chance_of(answer, "P1 stuck open") + chance_of(answer, "P1 resistance");
}

}  // namespace

TEST_CASE("an open low-pressure switch is not condemned before the pressure is known") {
    // By its volts alone, and out of its plug too.
    std::vector<std::string> by_volts = switch_open();
    by_volts.pop_back();
    for (const auto& readings : {by_volts, switch_open()}) {
        const MatchAnswer answer = matched(readings);
        INFO(answer.candidates.front().fault << " " << answer.candidates.front().probability);
        CHECK(chance_of_switch(answer) <= 0.7);
        CHECK(chance_of(answer, "P1 pressure") >= 0.25);
        const NextAnswer next = next_tests(solver(), *clutch(), job_of(*clutch(), readings));
        REQUIRE_FALSE(next.tests.empty());
        CHECK(write_test(*clutch(), next.tests.front().test) == "gas pressure");
        REQUIRE_FALSE(next.tests.front().caution.empty());
        CHECK(std::find(next.notes.begin(), next.notes.end(),
                        "P1 may stand as it does because its pressure says so: that is read before it is condemned") !=
              next.notes.end());
        REQUIRE_FALSE((next.stop && next.stop->repairs == std::vector<std::string>{"P1"}));
    }
}

TEST_CASE("after 0.3 bar the empty system leads, after 2.5 bar the switch") {
    const MatchAnswer empty = matched(switch_open(), "gas pressure 0.3bar");
    CHECK(empty.candidates.front().fault == "P1 pressure");
    CHECK(empty.candidates.front().probability > 0.9);
    CHECK(empty.candidates.front().repair == "P1 pressure");
    REQUIRE(empty.candidates.front().size);
    CHECK(empty.candidates.front().size->low <= 0.3e5);
    CHECK(empty.candidates.front().size->high >= 0.3e5);
    CHECK(empty.places.front().place == "P1 pressure");
    const MatchAnswer full = matched(switch_open(), "gas pressure 2.5bar");
    CHECK(full.candidates.front().fault == "P1 stuck open");
    CHECK(chance_of(full, "P1 pressure") < 0.1);
    // Once the gauge has told, nobody is sent to it again.
    const NextAnswer next = next_tests(solver(), *clutch(), [] {
        auto readings = switch_open();
        readings.emplace_back("gas pressure 2.5bar");
        return job_of(*clutch(), readings);
    }());
    for (const TestProposal& test : next.tests) CHECK(write_test(*clutch(), test.test) != "gas pressure");
}

TEST_CASE("a renewed switch leaves an empty system empty") {
    const MatchAnswer answer =
        matched({"key run, ac  clutch dead", "new P1, key run, ac  clutch dead", "key run, ac  B1+ to B1- 14.2V",
                 "key run, ac  C5.1 to B1- 14.1V", "key run, ac  C5.2 to B1- 0V"});
    CHECK(answer.candidates.front().fault == "P1 pressure");
}

TEST_CASE("a sound contact stands by its figures, and gauges and figures have their spread (S62: 0.196 +- 0.02 MPa)") {
    const MovingQuantity& low = *clutch()->part(clutch()->find_part("P1")).moved_by;
    const auto away = [&](const std::string& value) {
        return away_probability(low, measured<QuantityReading>("gas pressure " + value, *clutch()).value);
    };
    CHECK(away("0.3bar") > 0.99);
    CHECK(away("1.5bar") > 0.99);
    CHECK(away("2.1bar") > 0.2);  // between its figures it stands as it last did
    CHECK(away("2.1bar") < 0.8);
    CHECK(away("2.6bar") < 0.05);
    CHECK(away("8bar") < 1e-3);
    CHECK(away("<1.9bar") > 0.99);
    CHECK(away(">3bar") < 1e-3);
    CHECK(away("116psi") < 1e-3);  // 8 bar
    // A high-pressure switch opens above its figure: 3.14 MPa, closes at 2.25 MPa.
    const auto two = scenario_circuit("clutch.toml");
    const MovingQuantity& high = *two->part(two->find_part("P2")).moved_by;
    const auto high_away = [&](const std::string& value) {
        return away_probability(high, measured<QuantityReading>("gas pressure high side " + value, *two).value);
    };
    CHECK(high_away("36bar") > 0.95);
    CHECK(high_away("12bar") < 1e-3);
}

TEST_CASE("one gas moves all contacts of its side") {
    const auto circuit = scenario_circuit("clutch.toml");
    const auto moved = [&](const std::string& phrase) {
        std::string names;
        for (const PartId part : contacts_moved(*circuit, measured<QuantityReading>(phrase, *circuit)))
            names += circuit->part(part).name + " ";
        return names;
    };
    CHECK(moved("gas pressure 4bar") == "P1 P2 ");
    CHECK(moved("gas pressure 4bar low side") == "P1 ");
    CHECK(moved("gas pressure high side 4bar") == "P2 ");
    CHECK(moved("P2 pressure 4bar") == "P2 ");
}

TEST_CASE("on the bench a gauge shows the system, a new switch does not fill it, filling it does") {
    const Exercise exercise = exercise_with(clutch(), {"P1 pressure 0.3bar"});
    Bench bench(solver(), exercise);
    CHECK(act(bench, "ac  clutch").measured->shown == "dead");
    const ActionOutcome gauge = act(bench, "gas pressure");
    REQUIRE(gauge.measured);
    CHECK(gauge.measured->shown == "0.3 bar");
    CHECK_FALSE(gauge.cautions.empty());
    CHECK(gauge.minutes > 0);
    act(bench, "new P1");
    CHECK(bench.bill().cured.empty());
    CHECK(act(bench, "ac  clutch").measured->shown == "dead");
    act(bench, "repair P1 pressure");
    CHECK(bench.bill().cured == std::vector<std::string>{"P1 pressure"});
    CHECK(act(bench, "ac  clutch").measured->shown != "dead");
    // A sound system shows its healthy figure.
    Bench sound(solver(), exercise_with(clutch(), {"P1 stuck open"}));
    CHECK(act(sound, "gas pressure").measured->shown == "2.5 bar");
}

TEST_CASE("the tool's own way through an exercise reads the gauge before it renews the switch or fills the system") {
    for (const std::string hidden : {"P1 stuck open", "P1 pressure 0.3bar"}) {
        const LessonPlan plan = plan_of(solver(), exercise_with(clutch(), {hidden}), {});
        std::string actions;
        std::size_t gauge = 0;
        std::size_t repair = 0;
        for (std::size_t i = 0; i < plan.actions.size(); ++i) {
            const std::string& text = plan.actions[i].text;
            actions += text + "; ";
            if (text.find("pressure") != std::string::npos && gauge == 0 && !text.starts_with("repair")) gauge = i + 1;
            if ((text == "repair P1" || text == "repair P1 pressure") && repair == 0) repair = i + 1;
        }
        INFO(hidden << ": " << actions);
        CHECK(plan.solved);
        CHECK(gauge > 0);
        CHECK(gauge < repair);
        CHECK(plan.repairs == std::vector<std::string>{hidden == "P1 stuck open" ? "repair P1" : "repair P1 pressure"});
    }
}

TEST_CASE("a contact that heat moves is asked for its temperature") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
T1 = "contact opens 110C, closes 100C, healthy 80C"
A1 = "clutch 3.6ohm, pulls 7.5V"
G1 = "ground"
[wires]
1 = "F1.2 > T1.1 1.5mm2 RD 1m"
2 = "T1.2 > A1.1 1.5mm2 RD 1m"
3 = "A1.2 > G1 1.5mm2 BK 1m"
)");
    const auto readings = std::vector<std::string>{"clutch dead", "T1.1 to B1- 12.5V", "T1.2 to B1- 0V"};
    const NextAnswer next = next_tests(solver(), *circuit, job_of(*circuit, readings));
    REQUIRE_FALSE(next.tests.empty());
    CHECK(write_test(*circuit, next.tests.front().test) == "T1 temp");
    auto hot = readings;
    hot.emplace_back("T1 temp 125C");
    const MatchAnswer answer = match(solver(), *circuit, job_of(*circuit, hot));
    CHECK(answer.candidates.front().fault == "T1 temp");
}
