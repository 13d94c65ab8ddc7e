// The bench of lessons: its answers are the solver's, its figures those of published rows.
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "engine/lessons/bench.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/lesson_plan.hpp"
#include "engine/lessons/safety.hpp"
#include "engine/readings/probes.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("the bench answers with the volts and amps of whatif, rounded as a meter shows them", "[checked]") {
    const struct {
        const char* file;
        const char* fault;
    } cases[] = {{"cab-blower.toml", "C101.4 resistance 0.3ohm"},
                 {"cab-blower.toml", "R1 limiter open"},
                 {"cab-blower.toml", "542 chafe 20mohm at 60%"},
                 {"clutch.toml", "G101 open"},
                 {"rear-blower.toml", "M2 drag 1.4"},
                 {"roof-fan.toml", "K9 coil open"}};
    std::size_t compared = 0;
    for (const auto& one : cases) {
        const auto circuit = scenario_circuit(one.file);
        const std::vector<Fault> faults = faults_named(*circuit, one.fault);
        for (const State& state : default_states(*circuit)) {
            Technician technician = exact(*circuit, faults);
            const CourseResult whatif = run_course(solver(), *circuit, state, faults);
            REQUIRE(whatif);
            const Settled& end = whatif->end();
            for (const JointId joint : permitted_joints(*circuit)) {
                if (joint == circuit->reference) continue;
                const std::string phrase = state.label + "  " + circuit->joint(joint).name + " to B1-";
                INFO(one.file << " " << one.fault << " " << phrase);
                const auto measured = technician.measure(test_of(*circuit, phrase));
                REQUIRE(measured);
                const double truth = end.floats(joint) ? 0 : end.point.volts[joint.index];
                // A 10 Mohm meter draws 1.4 uA: through a relay coil of 90 ohm that is 0.13 mV.
                CHECK(std::abs(measured->truth - truth) < 2e-4);
                CHECK(std::abs(number_shown(*measured) - truth) <= 0.5 * volts_digit(truth) + 2e-4);
                ++compared;
            }
            for (const Wire& wire : circuit->wires) {
                const auto measured = technician.measure(test_of(*circuit, state.label + "  clamp " + wire.name));
                REQUIRE(measured);
                CHECK(measured->truth == Approx(wire_amps(end, circuit->find_wire(wire.name)).from).margin(1e-6));
            }
        }
    }
    CHECK(compared > 700);
}

TEST_CASE("the shop's instruments are off, inside what their makers allow, and by one scale") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    std::set<std::string> shown;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        Technician technician(solver(), Vehicle{circuit.get(), {}, {}}, drawn_meters(seed), usual_tools());
        const auto volts = technician.measure(test_of(*circuit, "hi  C304.1 to B1-"));
        const auto amps = technician.measure(test_of(*circuit, "hi  clamp 542"));
        REQUIRE(volts);
        REQUIRE(amps);
        shown.insert(value_of(*circuit, *volts));
        CHECK(std::abs(number_shown(*volts) - volts->truth) <=
              accuracy_of(Instrument::meter, usual_tools()).limit(volts->truth, 0.01) + 0.005);
        CHECK(std::abs(number_shown(*amps) - amps->truth) <=
              accuracy_of(Instrument::clamp, usual_tools()).limit(amps->truth, 0.1) + 0.05);
    }
    CHECK(shown.size() > 5);
}

TEST_CASE("an ohmmeter refuses what is live and measures a part in the hand", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Technician technician = exact(*circuit, faults_named(*circuit, "R1 coil 2-3 open"));
    CHECK_FALSE(technician.measure(test_of(*circuit, "off  ohms C304.1 to C101.4@541")));
    const auto open = technician.measure(test_of(*circuit, "unplug C303, ohms R1.1 to R1.4"));
    REQUIRE(open);
    CHECK(value_of(*circuit, *open) == "open");
    const auto coil = technician.measure(test_of(*circuit, "unplug C303, ohms R1.1 to R1.2"));
    REQUIRE(coil);
    CHECK(coil->truth == Approx(1.2).margin(0.01));
    CHECK(value_of(*circuit, *technician.measure(test_of(*circuit, "unplug C303, beep R1.1 to R1.2"))) == "yes");
    CHECK(value_of(*circuit, *technician.measure(test_of(*circuit, "unplug C303, beep R1.1 to R1.4"))) == "no");
}

// Row C14, READ+CHECKED: Lessons in Electric Circuits, DC volume, voltmeter impact: 24 V, two 250 Mohm in series, a
// 10 Mohm meter across the lower one reads 0.8889 V where 12 V stand without it.
TEST_CASE("a 10 Mohm meter loads a divider of megohms as published") {
    voltfall::test::BranchCircuit board;
    board.source("B", "plus", "0", 24);
    board.resistor("R1", "plus", "middle", 250e6);
    board.resistor("R2", "middle", "0", 250e6);
    Network network = board.network();
    const auto without = NgspiceSession::instance().solve_without_shunts(network);
    REQUIRE(without);
    const JointId middle = board.joint("middle");
    CHECK(without->volts[middle.index] == Approx(12).epsilon(1e-4));
    network.connect(middle, board.joint("0"), Resistor{default_value("meter_ohm")});
    const auto with = NgspiceSession::instance().solve_without_shunts(network);
    REQUIRE(with);
    CHECK(with->volts[middle.index] == Approx(0.8889).epsilon(1e-4));
}

// Row C21, READ+CHECKED: Lessons in Electric Circuits, DC volume, circuit wiring: 10 V, one 5 ohm load; 2 A; any pair
// of a top and a bottom point shows 10 V (9 pairs), any pair along one wire 0 V (6 pairs).
TEST_CASE("along a sound wire there are no volts, between the two wires all of them", "[checked]") {
    const auto circuit = circuit_of(R"(format = 1
name = "circuit wiring"
[parts]
B1 = "battery 10V 0.1mohm"
R1 = "resistor 5ohm 50W"
C1 = "connector, 2 way, contact 0.01mohm"
C4 = "connector, 2 way, contact 0.01mohm"
[wires]
1 = "B1+ > C1.1   35mm2 RD 0.01m"
2 = "C1.1 > R1.1  35mm2 RD 0.01m"
3 = "R1.2 > C4.1  35mm2 BK 0.01m"
4 = "C4.1 > B1-   35mm2 BK 0.01m"
)");
    Technician technician = exact(*circuit, {});
    const std::vector<std::string> top{"B1+", "C1.1@1", "R1.1"};
    const std::vector<std::string> bottom{"B1-", "C4.1@4", "R1.2"};
    for (const std::string& a : top) {
        for (const std::string& b : bottom)
            CHECK(volts_of(technician, "key on  " + a + " to " + b) == Approx(10).margin(0.01));
    }
    for (const auto* wire : {&top, &bottom}) {
        for (std::size_t i = 0; i < wire->size(); ++i) {
            for (std::size_t j = i + 1; j < wire->size(); ++j)
                CHECK(volts_of(technician, "key on  " + (*wire)[i] + " to " + (*wire)[j]) == Approx(0).margin(0.005));
        }
    }
    for (const std::string wire : {"1", "4"})
        CHECK(technician.measure(test_of(*circuit, "key on  clamp " + wire))->truth == Approx(2).epsilon(0.002));
}

// Row C25, READ (key; the netlist is DEDUCED): learningelectronics.net, worksheet trouble1: points 4, 9 and 10 are one
// pole, 6 and 7 the other, the lamp stands between 9 and 12, the switch between 12 and 6/7, 1 and 5 at the battery.
TEST_CASE("the published questions of a switch and a lamp are answered as its key does", "[checked]") {
    const auto circuit = circuit_of(R"(format = 1
name = "switch and lamp"
[parts]
B1  = "battery 12.6V 10mohm"
C4  = "connector, 2 way"
C10 = "connector, 2 way"
C6  = "connector, 2 way"
L1  = "lamp 5W"
S1  = "switch C: off on=1"
G1  = "ground"
[wires]
a = "B1+ > C4.1     1mm2 RD 0.1m"
b = "C4.1 > C10.1   1mm2 RD 0.1m"
c = "C10.1 > L1.1   1mm2 RD 0.1m"
d = "L1.2 > S1.C    1mm2 BK 0.1m"
e = "S1.1 > C6.1    1mm2 BK 0.1m"
f = "C6.1 > G1      1mm2 BK 0.1m"
)");
    const std::map<int, std::string> points{{1, "B1+"},  {5, "B1-"},   {4, "C4.1@b"}, {10, "C10.1@c"},
                                            {9, "L1.1"}, {12, "S1.C"}, {6, "C6.1@e"}, {7, "G1"}};
    const struct {
        int red, black;
        bool on, off;
    } key[] = {{1, 5, true, true},   {6, 7, false, false},  {4, 10, false, false}, {9, 12, true, false},
               {6, 12, false, true}, {9, 10, false, false}, {4, 7, true, true}};
    Technician technician = exact(*circuit, {});
    for (const auto& row : key) {
        const std::string pair = points.at(row.red) + " to " + points.at(row.black);
        INFO(row.red << "-" << row.black);
        CHECK((std::abs(volts_of(technician, "on  " + pair)) > 6) == row.on);
        CHECK((std::abs(volts_of(technician, "off  " + pair)) > 6) == row.off);
    }
}

// Rows A10, A11, A13, A14, COMPUTED (own solve; coil inside A07): 12.6 V, feed 0.10, relay 0.01, coil 3.6, ground 0.05
// ohm. An open ground leaves full volts on the ground side, an open coil none.
TEST_CASE("an open ground and an open coil differ only on the ground side") {
    const auto circuit = circuit_of(R"(format = 1
name = "clutch rows"
[parts]
B1 = "battery 12.6V 1mohm"
RF = "resistor 0.1ohm 50W"
RR = "resistor 0.01ohm 50W"
A1 = "clutch 3.6ohm, pulls 7.5V"
RG = "resistor 0.05ohm 50W"
[wires]
1 = "B1+ > RF.1   1.5mm2 RD 0.03m"
2 = "RF.2 > RR.1  1.5mm2 RD 0.03m"
3 = "RR.2 > A1.1  1.5mm2 RD 0.03m"
4 = "A1.2 > RG.1  1.5mm2 BK 0.03m"
5 = "RG.2 > B1-   1.5mm2 BK 0.03m"
)");
    const auto rows = [&](const std::vector<Fault>& faults) {
        Technician technician = exact(*circuit, faults);
        return std::array<double, 3>{volts_of(technician, "key on  RF.2 to B1-"),
                                     volts_of(technician, "key on  A1.1 to B1-"),
                                     volts_of(technician, "key on  A1.2 to B1-")};
    };
    const auto healthy = rows({});
    CHECK(healthy[0] == Approx(12.2649).epsilon(0.001));
    CHECK(healthy[1] == Approx(12.2314).epsilon(0.001));
    CHECK(healthy[2] == Approx(0.1676).margin(0.003));
    const auto poor = rows(faults_named(*circuit, "RG resistance 1ohm"));
    CHECK(poor[1] == Approx(12.3088).epsilon(0.001));
    CHECK(poor[2] == Approx(2.7794).margin(0.006));
    for (const double volts : rows(faults_named(*circuit, "RG open"))) CHECK(volts == Approx(12.6).margin(0.005));
    const auto coil = rows(faults_named(*circuit, "A1 coil open"));
    CHECK(coil[1] == Approx(12.6).margin(0.005));
    CHECK(coil[2] == Approx(0).margin(0.005));
}

TEST_CASE("a new fuse on a short blows again and is charged", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {}, {"542 chafe 15mohm at 60%"}));
    CHECK(value_of(*circuit, *act(bench, "fuse F7").measured) == "blown");
    for (std::size_t spent = 1; spent <= 2; ++spent) {
        const ActionOutcome fitted = act(bench, "new F7");
        REQUIRE(fitted.measured);
        CHECK(value_of(*circuit, *fitted.measured) == "blown at once");
        CHECK(bench.bill().parts.size() == spent);
    }
    act(bench, "repair 542");
    CHECK(value_of(*circuit, *act(bench, "new F7").measured) == "good");
    CHECK(all_mended(bench.vehicle()));
}

TEST_CASE("a meter is read before a fuse that was seen whole goes after a while") {
    // A held rotor of 104 A behind a 60 A maxi fuse, which takes ten seconds and more (ISO 8820-3: 200 % in 2 to 60 s).
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/cases/fan-relay.toml");
    REQUIRE(read.circuit);
    const std::vector<Fault> seized = faults_named(*read.circuit, "M1 seized");
    const Test feed = test_of(*read.circuit, "key run, on  M1.1 to B1-");
    Technician unseen = exact(*read.circuit, seized);
    const auto dead = unseen.measure(feed);
    REQUIRE(dead);
    CHECK(dead->blew.size() == 1);
    CHECK(number_shown(*dead) == Approx(0).margin(0.1));
    Technician looked = exact(*read.circuit, seized);
    REQUIRE(looked.measure(test_of(*read.circuit, "fuse F1")));
    const auto live = looked.measure(feed);
    REQUIRE(live);
    CHECK(live->blew.empty());
    CHECK(number_shown(*live) > 11);
    // Who watches the fan for a while sees the fuse go.
    REQUIRE(looked.measure(test_of(*read.circuit, "key run, on  M1")));
    CHECK(looked.vehicle().has_opened(read.circuit->find_part("F1")));
}

TEST_CASE("strip-down is paid once", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}));
    CHECK(act(bench, "hi C304.1 to B1-").minutes == 6);  // glovebox 5, the volts 1
    CHECK(act(bench, "hi C303.4 to B1-").minutes == 1);  // the same strip-down
    CHECK(act(bench, "hi drop C101.4").minutes == 26);
    CHECK(act(bench, "hi drop C101.4").minutes == 1);
    CHECK(act(bench, "hi").minutes == 0);
    CHECK(bench.settings() == "hi, key run");
    CHECK(value_of(*circuit, *act(bench, "M1").measured) == "slow");
    CHECK(bench.bill().test_minutes == 34);
}

TEST_CASE("each unsafe action ends an exercise with its reason, and a safe one does not", "[checked]") {
    const auto fan = scenario_circuit("roof-fan.toml");
    const auto blower = scenario_circuit("cab-blower.toml");
    const auto reason = [&](const auto& circuit, const std::vector<std::string>& roots, const std::string& line) {
        Bench bench(solver(), exercise_with(circuit, {}, roots));
        const ActionOutcome outcome = act(bench, line);
        return outcome.result == ActionResult::unsafe ? outcome.message : std::string();
    };
    using Catch::Contains;
    CHECK_THAT(reason(fan, {}, "C390.1 to B1-"), Contains("airbag"));
    CHECK_THAT(reason(fan, {}, "lamp C390.1 to B1-"), Contains("airbag"));
    CHECK_THAT(reason(fan, {}, "on, lamp P9.1 to B1+"), Contains("electronic"));
    CHECK_THAT(reason(fan, {}, "on, lamp K9.85 to B1+"), Contains("electronic"));
    CHECK(reason(fan, {}, "on, P9.1 to B1-").empty());
    CHECK(reason(fan, {}, "on, lamp K9.30 to B1-").empty());
    CHECK_THAT(reason(blower, {}, "new F7 60A"), Contains("60 A"));
    CHECK(reason(blower, {}, "new F7 40A").empty());
    CHECK_THAT(reason(blower, {}, "hi, jumper F7.1 to F7.2, M1"), Contains("around the fuse"));
    CHECK_THAT(reason(blower, {"542 chafe 15mohm at 60%"}, "off, feed C304.1, C304.1 to B1-"), Contains("short"));
    CHECK(reason(blower, {}, "hi, jumper F7.2 to C304.1, M1").empty());
    CHECK(reason(blower, {}, "off, lamp in F7, F7.2@541 to C101.4@541").empty());
}

TEST_CASE("a test that could not have shown the fault is told apart from one that could") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    const auto blind = [&](const std::string& phrase) {
        return why_blind(solver(), exercise, test_of(*circuit, phrase));
    };
    using Catch::Contains;
    CHECK_THAT(blind("off  C304.1 to B1-").value_or(""), Contains("without a load"));
    CHECK_THAT(blind("off  C101.4@541 to C101.4@542").value_or(""), Contains("without current"));
    CHECK_THAT(blind("fuse F7").value_or(""), Contains("whole fuse"));
    CHECK_FALSE(blind("hi  C304.1 to B1-"));
    CHECK_FALSE(blind("hi  C101.4@541 to C101.4@542"));
    CHECK_FALSE(blind("hi  clamp 542"));
}
