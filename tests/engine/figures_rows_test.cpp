// Figures of circuits that are drawn otherwise than the usual one: a load beside a plug or shorted by its wiring, fuses
// without wires or with many, limits of one sort or another, cut-off points, loads that electronics have switched off.
#include <algorithm>

#include "engine/figures/across_loads.hpp"
#include "engine/figures/catalogue_symptoms.hpp"
#include "engine/figures/circuit_figures.hpp"
#include "engine/figures/fuse_curve.hpp"
#include "engine/figures/limits.hpp"
#include "engine/figures/overview.hpp"
#include "engine/figures/voltage_ladder.hpp"
#include "engine/figures/whatif.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/lost_solves.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using Catch::Contains;

namespace {

std::shared_ptr<const Circuit> clutch_with(const std::string& limits) {
    return circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
S1 = "switch C: off on=1"
A1 = "clutch 3.6ohm, pulls 7.5V"
G1 = "ground"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 0.5m"
2 = "S1.1 > A1.1 2.5mm2 GN 0.5m"
3 = "A1.2 > G1 2.5mm2 BK 0.5m"
[controls]
S1 = "clutch"
)" + limits);
}

/// A blower behind a linear module in its ground, commanded by a head that rests at off.
std::shared_ptr<const Circuit> commanded(const std::string& parts, const std::string& controls) {
    return circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n" + parts +
        "F1 = \"fuse 40A maxi, feed 15\"\nM1 = \"motor 19.8A @13.5V, 3500rpm, stall 79.2A\"\nG1 = \"ground\"\n"
        "Z1 = \"module linear, side low, command 0.8V-6.9V, open command off\"\n"
        "H1 = \"head OUT: off=0V lo=2.1V hi=6.9V\"\n[wires]\n"
        "10 = \"F1.2 > M1.1 6mm2 RD 1m\"\n11 = \"M1.2 > Z1.M- 6mm2 OG 0.3m\"\n12 = \"F1.2 > Z1.+ 4mm2 RD 0.5m\"\n"
        "13 = \"Z1.- > G1 6mm2 BK 0.5m\"\n20 = \"F1.2 > H1.+ 1mm2 RD 1m\"\n21 = \"H1.OUT > Z1.CMD 1mm2 GN 1m\"\n"
        "22 = \"H1.- > G1 1mm2 BK 0.3m\"\n" +
        controls);
}

std::vector<LimitFigure> limits_of(const Circuit& circuit, const std::string& phrase, const std::string& fault = "") {
    const State state = states_of(circuit, state_of(phrase, circuit)).front();
    const std::vector<Fault> faults = fault.empty() ? std::vector<Fault>{} : faults_named(circuit, fault);
    const SettleResult healthy = settle(solver(), circuit, state, {});
    const SettleResult faulted = settle(solver(), circuit, state, faults);
    REQUIRE((healthy && faulted));
    const auto figures = check_limits(solver(), circuit, state, faults, *healthy, *faulted);
    REQUIRE(figures);
    return *figures;
}

const LimitFigure* figure_of(const std::vector<LimitFigure>& figures, const std::string& what) {
    const auto found =
        std::find_if(figures.begin(), figures.end(), [&](const LimitFigure& figure) { return figure.what == what; });
    return found == figures.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("a plug that both sides of a load run through stands across nothing, nor does what is shorted") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
L1 = "lamp 21W"
L2 = "lamp 21W"
C5 = "connector, 2 way"
D1 = "diode"
D2 = "diode"
K1 = "relay 40A, coil 90ohm"
G1 = "ground"
[wires]
1 = "F1.2 > C5.1 1mm2 RD 1m"
2 = "C5.1 > L1.1 1mm2 RD 1m"
3 = "L1.2 > C5.2 1mm2 BK 1m"
4 = "C5.2 > G1 1mm2 BK 1m"
5 = "C5.1 > D1.K 1mm2 RD 0.1m"
6 = "D1.A > C5.2 1mm2 BK 0.1m"
7 = "F1.2 > L2.1 1mm2 RD 1m"
8 = "F1.2 > L2.2 1mm2 RD 1m"
9 = "F1.2 > D2.A 1mm2 RD 1m"
10 = "F1.2 > D2.K 1mm2 RD 1m"
11 = "C5.1 > K1.86 1mm2 RD 0.1m"
12 = "K1.85 > C5.2 1mm2 BK 0.1m"
)");
    CHECK(parts_across(*circuit, circuit->find_part("L1")) == std::vector<std::string>{"D1"});
    CHECK(parts_across(*circuit, circuit->find_part("L2")).empty());
}

TEST_CASE("a fuse's curve has one wire of each size, three at most, and none where none carries its current") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
F9 = "fuse 10A mini, feed 30"
L1 = "lamp 21W"
C1 = "connector, 2 way"
C2 = "connector, 2 way"
C3 = "connector, 2 way"
C4 = "connector, 2 way"
G1 = "ground"
[wires]
1 = "F1.2 > C1.1 2.5mm2 RD 1m"
2 = "C1.1 > C2.1 1mm2 RD 1m"
3 = "C2.1 > C3.1 1mm2 RD 1m"
4 = "C3.1 > C4.1 4mm2 RD 1m"
5 = "C4.1 > L1.1 6mm2 RD 1m"
6 = "L1.2 > G1 1mm2 BK 1m"
)");
    const std::vector<FuseCurve> curves = fuse_curves(solver(), *circuit, {});
    REQUIRE(curves.size() == 2);
    std::vector<std::string> wires;
    for (const FuseCurve::WireLimit& wire : curves[0].wires) wires.push_back(wire.wire);
    CHECK(wires == std::vector<std::string>{"2", "1", "4"});
    CHECK(curves[1].fuse == "F9");
    CHECK(curves[1].wires.empty());
    CHECK(*curves[1].running == Approx(0).margin(1e-3));
    // Without a solution the openings are drawn alone: they are the fuse's own.
    LostSolves none(1, 1);
    const std::vector<FuseCurve> lost = fuse_curves(none, *circuit, {});
    REQUIRE(lost.size() == 2);
    CHECK(lost[0].openings.size() == curves[0].openings.size());
    CHECK_FALSE(lost[0].running);
    CHECK(lost[0].wires.empty());
}

TEST_CASE("a range by ratio that begins at nothing is cut by differences") {
    SizeRange range{0, 10, 5, Unit::none, true, ""};
    CHECK(sizes_tried(range) == std::vector<double>{0, 2.5, 5, 7.5, 10});
    range.low = 0.001;
    CHECK(sizes_tried(range) == std::vector<double>{0.001, 0.01, 0.1, 1, 10});
}

TEST_CASE("a circuit without a load tells its faults by its fuses alone") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
K1 = "relay 40A, coil 90ohm"
G1 = "ground"
[wires]
1 = "F1.2 > K1.86 1mm2 RD 1m"
2 = "K1.85 > G1 1mm2 BK 1m"
)");
    const std::vector<State> states = default_states(*circuit);
    const auto answer = symptoms_of_catalogue(solver(), *circuit, states, 1, [](auto...) {});
    REQUIRE(answer);
    CHECK(answer->notes == std::vector<std::string>{"no load that a driver notices: only fuses tell"});
    const bool opens = std::any_of(answer->groups.begin(), answer->groups.end(), [](const SymptomGroup& group) {
        return group.symptom.fuses == std::vector<std::string>{"F1"};
    });
    CHECK(opens);
}

TEST_CASE("a relay that feeds its own coil is told as one that holds once pulled") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
K1 = "relay 40A, coil 90ohm"
S1 = "switch C: off go=1"
L1 = "lamp 5W"
G1 = "ground"
[wires]
1 = "F1.2 > K1.30 1mm2 RD 1m"
2 = "K1.87 > K1.86 1mm2 RD 1m"
3 = "F1.2 > S1.C 1mm2 RD 1m"
4 = "S1.1 > K1.86 1mm2 RD 1m"
5 = "K1.85 > G1 1mm2 BK 1m"
6 = "K1.87 > L1.1 1mm2 RD 1m"
7 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S1 = "starter"
)");
    const auto figures = [&](const std::string& label) {
        const SettleResult settled =
            settle(solver(), *circuit, state_named(*circuit, label), {}, {}, SecondAnswer::look_for);
        REQUIRE(settled);
        return figures_of(*settled, *settled, {});
    };
    const CircuitFigures off = figures("off");
    CHECK(off.holding == std::vector<std::string>{"K1"});
    CHECK(off.relays.front().word == "released");
    const CircuitFigures start = figures("go");
    CHECK(start.holding.empty());
    CHECK(start.relays.front().word == "pulled");
}

TEST_CASE("a load that its electronics have switched off works in no position, whatever its wires say") {
    const auto works = [](const Circuit& circuit, Simulator& simulator) {
        const ShowAnswer shown = overview_of(simulator, circuit);
        REQUIRE(shown.loads.size() == 1);
        return shown.loads.front().works_in;
    };
    using Labels = std::vector<std::string>;
    const auto blower = commanded("", "");
    CHECK(works(*blower, solver()) == Labels{"lo", "hi"});
    // Nothing commands the fan, and nothing can be set.
    const auto alone = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 40A maxi, feed 30"
M1 = "fan-unit 25A @13.5V, 3500rpm, least 2A, command 10%-90%, open command off"
G1 = "ground"
[wires]
1 = "F1.2 > M1.+ 6mm2 RD 1m"
2 = "M1.- > G1 6mm2 BK 1m"
)");
    CHECK(works(*alone, solver()).empty());
    // Without a solution the wires are all that is known.
    LostSolves none(1, 1);
    CHECK(works(*alone, none) == Labels{"key on"});
    // The key's own positions are those of the wires: what is commanded in them is not known.
    const auto keyed = commanded("S0 = \"key: off acc=75 on=75+15 start=15+50\"\n", "[controls]\nS0 = \"key\"\n");
    CHECK_FALSE(works(*keyed, solver()).empty());
}

TEST_CASE("limits of what is no figure of a solution are told apart from those that are") {
    const auto circuit = clutch_with(
        "[limits]\non.amps = \"<4.1A\"\nground = \"0.1V\"\nF1 = \"10A\"\non.volts = \"12-14V\"\nA1 = \"60C\"\n");
    // 14.2 V over 3.6 ohm and some milliohms of the way; the plate of a clutch names no volts.
    const std::vector<LimitFigure> on = limits_of(*circuit, "on, key run");
    const LimitFigure* amps = figure_of(on, "A1");
    REQUIRE(amps);
    CHECK(amps->healthy == Approx(14.2 / 3.64).epsilon(0.02));
    CHECK_FALSE(amps->low);
    CHECK(amps->holds(amps->healthy));
    CHECK_FALSE(amps->holds(4.2));
    CHECK(limits_not_checked(*circuit).size() == 3);
    CHECK(drop_limit(*circuit, "ground") == 0.1);
    CHECK_FALSE(drop_limit(*circuit, "feed"));
    // The posts at the volts that the limit names.
    const auto at = clutch_with("[limits]\non.amps = \"3-4A @12V\"\n");
    const std::vector<LimitFigure> there = limits_of(*at, "on, key run");
    const LimitFigure* named = figure_of(there, "A1 at 12 V");
    REQUIRE(named);
    CHECK(named->healthy == Approx(12 / 3.64).epsilon(0.02));
    CHECK(named->low == 3.0);
}

TEST_CASE("a ground that hangs on nothing has no drop, and one that a fault has cut off none that is read") {
    const auto circuit = clutch_with("[limits]\nground = \"0.1V\"\n");
    CHECK(figure_of(limits_of(*circuit, "on, key run"), "ground G1"));
    CHECK_FALSE(figure_of(limits_of(*circuit, "off, unplug G1"), "ground G1"));
    const LimitFigure* cut = figure_of(limits_of(*circuit, "off", "G1 open"), "ground G1");
    REQUIRE(cut);
    CHECK(cut->faulted == 0);
}

TEST_CASE("an overview names the points that hang on nothing at off, and each user of a default once") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 30A regular, feed 30"
S1 = "switch C: off on=1"
S2 = "switch C: off on=1"
M1 = "motor 9A @13.5V, 3000rpm, stall 36A"
R1 = "pack 1 0.5ohm 2 0.5ohm 3, limiter at 1, limiter at 3"
G1 = "ground"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 1m"
2 = "S1.1 > M1.1 2.5mm2 RD 1m"
3 = "M1.2 > R1.1 2.5mm2 BU 1m"
4 = "R1.3 > S2.C 2.5mm2 BK 1m"
5 = "S2.1 > G1 2.5mm2 BK 1m"
[controls]
S1 = "fan"
S2 = "ground"
)");
    const ShowAnswer shown = overview_of(solver(), *circuit);
    const auto floats = [&](const std::string& name) {
        return std::find(shown.floating_off.begin(), shown.floating_off.end(), name) != shown.floating_off.end();
    };
    CHECK(floats("M1.1"));
    CHECK(floats("M1.2"));
    CHECK_FALSE(floats("F1.2"));
    CHECK_FALSE(floats("2 middle"));
    const auto limiter = std::find_if(shown.defaults.begin(), shown.defaults.end(),
                                      [](const ShownDefault& one) { return one.name == "limiter"; });
    REQUIRE(limiter != shown.defaults.end());
    CHECK(limiter->used_by == std::vector<std::string>{"R1"});
}

TEST_CASE("a ladder leaves out readings that stand for another circuit, and volts of what is cut off") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const PartId motor = circuit->find_part("M1");
    const State hi = state_named(*circuit, "hi");
    const auto measured = [&](const std::vector<Reading>& readings) {
        const VoltageLadder ladder = voltage_ladder(solver(), *circuit, hi, motor, {}, readings);
        return std::count_if(ladder.measured.begin(), ladder.measured.end(), [](const auto& one) { return one; });
    };
    const Reading plain = job_of(*circuit, {"hi  M1.1 to B1-  10.2V"}).readings.front();
    CHECK(measured({plain}) == 1);
    CHECK(measured({job_of(*circuit, {"hi, jumper SP1 to G201  M1.1 to B1-  10.2V"}).readings.front()}) == 0);
    CHECK(measured({job_of(*circuit, {"hi  M1.1 to C101.4  0.2V"}).readings.front()}) == 0);
    Reading nothing = plain;
    std::get<VoltsReading>(nothing.measurement).value.open = true;
    CHECK(measured({nothing}) == 0);
    // Between two opens no volts stand; in front of them those of the supply.
    std::vector<Fault> two = faults_named(*circuit, "C101.4 open");
    two.push_back(faults_named(*circuit, "M1 open").front());
    const std::vector<NamedCase> cases{{"two opens", two}};
    const VoltageLadder ladder = voltage_ladder(solver(), *circuit, hi, motor, cases, {});
    REQUIRE(ladder.lines.size() == 2);
    const auto& volts = ladder.lines[1].volts;
    CHECK(volts.front());
    CHECK(std::any_of(volts.begin(), volts.end(), [](const auto& one) { return !one; }));
}
