// The figures that answers are made of: limits, states in a fault's condition, what stands across a load, how a repair
// is reached, relays and points, the ladder with its readings.
#include <fmt/format.h>
#include <algorithm>

#include "engine/figures/across_loads.hpp"
#include "engine/figures/fuse_curve.hpp"
#include "engine/figures/overview.hpp"
#include "engine/figures/repair_reach.hpp"
#include "engine/figures/speed_rows.hpp"
#include "engine/figures/voltage_ladder.hpp"
#include "engine/figures/whatif.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using Catch::Contains;

namespace {

std::shared_ptr<const Circuit> van(const std::string& more) {
    return circuit_of(R"(format = 1
name = "book van"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 20A regular, feed 30"
F2 = "fuse 10A mini, feed 15"
S1 = "switch C: off lo=1 hi=2"
S2 = "switch C: off on=1"
M1 = "motor 9A @13.5V, 3000rpm, stall 36A"
R1 = "resistor 0.6ohm 100W"
L1 = "lamp 21W"
A1 = "clutch 3.6ohm, pulls 7.5V"
D1 = "diode"
C5 = "connector, 4 way"
G1 = "ground frame"
[plugs]
M1 = "C6"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 1m"
2 = "S1.1 > R1.1 2.5mm2 YE 1m"
3 = "R1.2 > C5.1 2.5mm2 BU 1m"
4 = "S1.2 > C5.1 2.5mm2 OG 1m"
5 = "C5.1 > M1.1 2.5mm2 OG 1m"
6 = "M1.2 > G1 2.5mm2 BK 0.5m"
7 = "F2.2 > S2.C 1mm2 RD 1m"
8 = "S2.1 > L1.1 1mm2 GN 1m"
9 = "L1.2 > G1 1mm2 BK 1m"
10 = "S2.1 > A1.1 1mm2 GN 1m"
11 = "A1.2 > G1 1mm2 BK 1m"
12 = "G1 > D1.A 1mm2 BK 0.1m"
13 = "D1.K > A1.1 1mm2 GN 0.1m"
[controls]
S1 = "blower"
S2 = "lights"
)" + more);
}

WhatifAnswer answer_of(const Circuit& circuit, const std::vector<std::string>& labels, const std::string& fault = "") {
    WhatifQuestion question;
    if (!fault.empty()) question.faults = faults_named(circuit, fault);
    for (const std::string& label : labels) question.states.push_back(state_named(circuit, label));
    const auto answer = whatif(ngspice(), circuit, question);
    REQUIRE(answer);
    return *answer;
}

const LimitFigure* limit_named(const WhatifState& state, const std::string& what) {
    for (const LimitFigure& limit : state.limits)
        if (limit.what == what) return &limit;
    return nullptr;
}

std::vector<std::string> states_in(const WhatifAnswer& answer) {
    std::vector<std::string> labels;
    for (const WhatifState& state : answer.states) labels.push_back(state.state);
    return labels;
}

}  // namespace

TEST_CASE("limits stand beside what the circuit does, in the position that they name") {
    const auto circuit =
        van("[limits]\nhi.amps = \"8-10A @13.5V\"\nlo.amps = \"8A\"\nfeed = \"0.5V\"\nground = \"0.1V\"\n"
            "C5 = \"40C\"\n");
    const WhatifAnswer answer = answer_of(*circuit, {"S1=hi", "S1=lo", "S2=on"}, "G1 resistance 0.1ohm");
    const WhatifState& hi = answer.states[0];
    const LimitFigure* amps = limit_named(hi, "M1 at 13.5 V");
    REQUIRE(amps);
    CHECK(amps->holds(amps->healthy));
    // 9 A by its plate; the wires take a little of the 13.5 V.
    CHECK(amps->healthy == Approx(9).epsilon(0.06));
    CHECK(amps->low == 8.0);
    const LimitFigure* ground = limit_named(hi, "ground G1");
    REQUIRE(ground);
    CHECK(ground->holds(ground->healthy));
    CHECK_FALSE(ground->holds(ground->faulted));
    CHECK(ground->faulted == Approx(0.1 * hi.faulted.loads[0].amps).epsilon(0.05));
    REQUIRE(limit_named(hi, "feed of M1"));
    CHECK(limit_named(hi, "feed of L1") == nullptr);
    // A limit with neither its volts nor a low end: at the plate's volts, and nothing is too little.
    const LimitFigure* low = limit_named(answer.states[1], "M1 at 13.5 V");
    REQUIRE(low);
    CHECK_FALSE(low->low);
    CHECK(low->holds(0));
    // The resistor drops by design: of the feed only wires and contacts count.
    CHECK(limit_named(answer.states[1], "feed of M1")->healthy < 0.5);
    CHECK(limit_named(answer.states[2], "feed of L1") != nullptr);
    REQUIRE(answer.not_checked.size() == 1);
    CHECK_THAT(answer.not_checked[0], Contains("C5 (40 C): not a figure of this solution"));
    CHECK(drop_limit(*circuit, "feed") == 0.5);
    CHECK_FALSE(drop_limit(*van(""), "ground"));
}

TEST_CASE("a limit of amperes that could be of several loads is told as not checked") {
    const auto circuit = circuit_of(R"(format = 1
name = "two lamps"
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 20A regular, feed 30"
S1 = "switch C: off on=1"
L1 = "lamp 21W"
L2 = "lamp 21W"
G1 = "ground frame"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 1m"
2 = "S1.1 > L1.1 1mm2 YE 1m"
3 = "S1.1 > L2.1 1mm2 BU 1m"
4 = "L1.2 > G1 1mm2 BK 1m"
5 = "L2.2 > G1 1mm2 BK 1m"
[controls]
S1 = "lights"
[limits]
on.amps = "4A"
)");
    const WhatifAnswer answer = answer_of(*circuit, {"on"});
    CHECK(answer.states[0].limits.empty());
    REQUIRE(answer.not_checked.size() == 1);
    CHECK_THAT(answer.not_checked[0], Contains("on.amps: several loads"));
    CHECK(amps_limit(*circuit, state_named(*circuit, "on"), circuit->find_part("L1")) == nullptr);
}

TEST_CASE("a fault of a condition is followed in it too, unless a state names it already") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    CHECK(states_in(answer_of(*circuit, {"hi"}, "C101.4 open when bump")) ==
          std::vector<std::string>{"hi", "hi, bump"});
    WhatifQuestion question;
    question.faults = faults_named(*circuit, "C101.4 open when bump");
    State bumped = state_named(*circuit, "hi");
    bumped.conditions = {"bump"};
    question.states = {bumped};
    const auto answer = whatif(ngspice(), *circuit, question);
    REQUIRE(answer);
    REQUIRE(answer->states.size() == 1);
    CHECK(answer->states[0].faulted.loads[0].said == "dead");
}

TEST_CASE("what is asked for is told of the points and wires chosen alone") {
    const auto circuit = van("");
    WhatifQuestion question;
    question.states = {state_named(*circuit, "S1=hi")};
    question.points.joints = {circuit->find_joint("M1.1")};
    question.points.wires = {circuit->find_wire("5")};
    const auto answer = whatif(ngspice(), *circuit, question);
    REQUIRE(answer);
    CHECK(answer->points == std::vector<std::string>{"M1.1", "5"});
    const CircuitFigures& figures = answer->states[0].healthy;
    REQUIRE(figures.points.size() == 1);
    REQUIRE(figures.wires.size() == 1);
    CHECK(figures.wires[0].from == Approx(figures.loads[0].amps).epsilon(1e-3));
    const WhatifAnswer all = answer_of(*circuit, {"S1=hi"});
    CHECK(all.states[0].healthy.wires.size() == circuit->wires.size());
    CHECK(all.states[0].healthy.points.size() > 20);
}

TEST_CASE("a relay that feeds its own coil through its resting contact chatters, one that holds itself is told") {
    const auto circuit = circuit_of(R"(format = 1
name = "buzzer"
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
S1 = "switch C: off on=1"
K1 = "relay 30A, coil 90ohm"
L1 = "lamp 5W"
G1 = "ground frame"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > K1.30 1mm2 YE 1m"
3 = "K1.87a > K1.86 1mm2 BU 1m"
4 = "K1.85 > G1 1mm2 BK 1m"
5 = "K1.87 > L1.1 1mm2 OG 1m"
6 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S1 = "buzzer"
)");
    const WhatifAnswer answer = answer_of(*circuit, {"off", "on"});
    REQUIRE(answer.states[1].healthy.relays.size() == 1);
    CHECK(answer.states[1].healthy.relays[0].word == "chatters");
    CHECK(answer.states[0].healthy.relays[0].word == "released");
}

TEST_CASE("what stands across a load has two ends at its two sides") {
    const auto circuit = van("");
    CHECK(parts_across(*circuit, circuit->find_part("A1")) == std::vector<std::string>{"D1"});
    CHECK(parts_across(*circuit, circuit->find_part("M1")).empty());
    // The lamp stands beside the clutch, so the diode is across it too.
    CHECK(parts_across(*circuit, circuit->find_part("L1")) == std::vector<std::string>{"D1"});
    const auto clutch = scenario_circuit("clutch.toml");
    CHECK(parts_across(*clutch, clutch->find_part("A1")) == std::vector<std::string>{"D1"});
    const ShowAnswer shown = overview_of(solver(), *circuit);
    REQUIRE(shown.loads.size() == 4);
    CHECK(shown.loads[0].across.empty());
    CHECK(shown.loads[3].across == std::vector<std::string>{"D1"});
}

TEST_CASE("a repair is reached by the place, its plug or the nearer end of a wire, whichever takes least") {
    const auto circuit = van("[reach]\nC6 = 4\nC5 = 12\nG1 = 3\nR1 = 9\n[together]\nM1 = [\"C6 pins\"]\n");
    CHECK(reach_of_repair(*circuit, "M1").minutes == 4);
    CHECK(reach_of_repair(*circuit, "M1 terminals").minutes == 4);
    CHECK(reach_of_repair(*circuit, "C5.1").minutes == 12);
    CHECK(reach_of_repair(*circuit, "C6").minutes == 4);
    CHECK(reach_of_repair(*circuit, "5").minutes == 4);  // from C5 to the motor's plug
    CHECK(reach_of_repair(*circuit, "6").minutes == 3);
    CHECK_FALSE(reach_of_repair(*circuit, "S2").known);
    CHECK(replaced_with(*circuit, "M1") == std::vector<std::string>{"C6 pins"});
    CHECK(replaced_with(*circuit, "R1").empty());
}

TEST_CASE("readings stand at their rung of the ladder where they say volts to minus in that position") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const PartId motor = circuit->find_part("M1");
    const State hi = state_named(*circuit, "hi");
    const auto measured = [&](const std::vector<std::string>& readings) {
        const VoltageLadder ladder =
            voltage_ladder(solver(), *circuit, hi, motor, {}, job_of(*circuit, readings).readings);
        REQUIRE(ladder.measured.size() == ladder.rungs.size());
        std::string text;
        for (std::size_t i = 0; i < ladder.rungs.size(); ++i)
            if (ladder.measured[i]) text += fmt::format("{} {:g}; ", ladder.rungs[i], *ladder.measured[i]);
        return text;
    };
    const std::string rung = measured({"hi  M1.1 to B1-  10.2V"});
    CHECK_THAT(rung, Contains(" 10.2; "));
    CHECK(measured({"lo  M1.1 to B1-  10.2V"}).empty());
    CHECK(measured({"hi  M1.1 to G201  10.2V"}).empty());
    CHECK(measured({"hi  M1.1 to B1-  9-11V"}).empty());
    CHECK(measured({"hi  clamp 542  12.4A"}).empty());
    CHECK(measured({"hi, unplug C304  C304.1 to B1-  12.6V"}).empty());
    CHECK(measured({"hi, pull F12  M1.1 to B1-  12.6V"}).empty());
    // Nothing runs with the switch off: there is no way.
    CHECK(voltage_ladder(solver(), *circuit, state_named(*circuit, "off"), motor, {}, {}).empty());
}

TEST_CASE("the ladder begins at the battery's own post, whatever the battery is called") {
    std::string text = cab_blower_text();
    for (auto at = text.find("B1 "); at != std::string::npos; at = text.find("B1 ", at + 2)) text.replace(at, 2, "BAT");
    const auto circuit = circuit_of(text);
    const VoltageLadder ladder =
        voltage_ladder(solver(), *circuit, state_named(*circuit, "hi"), circuit->find_part("M1"), {}, {});
    REQUIRE_FALSE(ladder.empty());
    CHECK(ladder.rungs.front() == "BAT+");
    CHECK(ladder.rungs.back() == "BAT-");
}

TEST_CASE("loads that go the same everywhere are left out of the speeds, unless none is left") {
    const auto circuit = van("");
    const std::vector<SpeedRow> rows = speed_rows(solver(), *circuit, faults_named(*circuit, "M1 drag 1.3"));
    const std::vector<SpeedRow> telling = telling_rows(rows);
    CHECK(std::all_of(rows.begin(), rows.end(), [](const SpeedRow& row) { return row.now.has_value(); }));
    CHECK(std::any_of(telling.begin(), telling.end(), [](const SpeedRow& row) { return row.load == "M1"; }));
    const auto steady = circuit_of(R"(format = 1
name = "one lamp"
[parts]
B1 = "battery 12.6V 8mohm"
L1 = "lamp 5W"
[wires]
1 = "B1+ > L1.1 1mm2 RD 1m"
2 = "L1.2 > B1- 1mm2 BK 1m"
)");
    const std::vector<SpeedRow> same = speed_rows(solver(), *steady, {});
    CHECK_FALSE(same.empty());
    CHECK(telling_rows(same).size() == same.size());
}

TEST_CASE("each fuse is drawn with the wires that carry its current, thinnest first, and the fault's current") {
    const auto circuit = van("");
    const std::vector<FuseCurve> sound = fuse_curves(solver(), *circuit, {});
    REQUIRE(sound.size() == 2);
    CHECK_FALSE(sound[0].fault);
    CHECK(sound[0].running_in == "S1=hi");
    const std::vector<FuseCurve> shorted = fuse_curves(solver(), *circuit, faults_named(*circuit, "5 chafe 20mohm"));
    REQUIRE(shorted[0].fault);
    CHECK(*shorted[0].fault > 100);
    REQUIRE(shorted[0].fault_opens);
    CHECK(*shorted[0].fault_opens < 1);
    for (const FuseCurve& curve : shorted) {
        REQUIRE_FALSE(curve.wires.empty());
        for (const auto& wire : curve.wires) CHECK(wire.bears.front().amps > wire.bears.back().amps);
    }
}

TEST_CASE("each kind of event has its word, and watts where something gets hot") {
    const auto watts = [](HeatEventKind kind) {
        HeatEvent event;
        event.kind = kind;
        event.watts = 30;
        return event_watts(event);
    };
    CHECK(event_word(HeatEventKind::fuse_opens) == "fuse opens");
    CHECK(event_word(HeatEventKind::breaker_closes) == "breaker closes");
    CHECK(event_word(HeatEventKind::limiter_opens) == "limiter opens");
    CHECK(event_word(HeatEventKind::folds_back) == "folds back");
    CHECK(event_word(HeatEventKind::cuts_out) == "cuts out");
    CHECK(event_word(HeatEventKind::runs_again) == "runs again");
    CHECK(event_word(HeatEventKind::harmed) == "harmed");
    CHECK(event_word(HeatEventKind::warms).empty());
    CHECK_FALSE(watts(HeatEventKind::fuse_opens));
    CHECK(watts(HeatEventKind::limiter_opens) == 30.0);
    CHECK(watts(HeatEventKind::harmed) == 30.0);
    BodyHeat body;
    body.ambient = 25;
    body.limit = 105;
    body.hottest = 60;
    CHECK_FALSE(is_warm(body));
    body.hottest = 70;
    CHECK(is_warm(body));
}
