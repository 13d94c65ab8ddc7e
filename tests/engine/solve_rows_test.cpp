// Networks and states at the edges of what is solved: sources without ohms in every place, values that nobody may
// have, wires without length, keys alone, jobs that fail together.
#include <barrier>
#include <cmath>
#include <limits>
#include <mutex>
#include <set>
#include <stdexcept>

#include "engine/ngspice/watchdog.hpp"
#include "engine/solve/core_simulator.hpp"
#include "engine/solve/jobs.hpp"
#include "engine/solve/settled.hpp"
#include "engine/solve/unsound_case.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/motor.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/lost_solves.hpp"
#include "tests/support/made_fault.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::test {

using testing::circuit_of;
using testing::LostSolves;
using testing::two_controls;

namespace {

/// The answer of the core, which must be its own and that of the simulator of record.
OperatingPoint core_point(const Network& network) {
    CoreSimulator core(ngspice());
    const SolveResult point = core.solve(network);
    const SolveResult record = ngspice().solve(network);
    REQUIRE(point);
    REQUIRE(record);
    CHECK(core.counters().handed_over == 0);
    for (std::size_t joint = 0; joint < point->volts.size(); ++joint)
        CHECK(point->volts[joint] == Approx(record->volts[joint]).margin(1e-8));
    return *point;
}

std::string refusal_of(const Network& network) {
    CoreSimulator core(ngspice());
    const SolveResult point = core.solve(network);
    CHECK(core.counters().handed_over == 1);
    return point ? "solved" : point.error().message;
}

Motor plain_motor() {
    return motor_from_nameplate({13.5, 20, 3500, 80, 2, 1.0});
}

}  // namespace

TEST_CASE("a source without ohms carries what flows at its ends, poled either way and beside plain copper") {
    BranchCircuit negative;
    const BranchId below = negative.source("B1", "0", "m", 12);
    negative.resistor("L1", "m", "0", 6);
    const OperatingPoint point = core_point(negative.network());
    CHECK(point.volts[negative.joint("m").index] == Approx(-12));
    CHECK(point.amps[below.index] == Approx(-2));

    BranchCircuit tied;
    const BranchId battery = tied.source("B1", "plus", "0", 12);
    tied.resistor("strap", "plus", "far", 0);
    tied.resistor("L1", "far", "0", 4);
    const OperatingPoint beside = core_point(tied.network());
    CHECK(beside.volts[tied.joint("far").index] == Approx(12));
    CHECK(beside.amps[battery.index] == Approx(-3));

    // An ammeter: no volts, whatever flows.
    BranchCircuit metered;
    metered.source("B1", "plus", "0", 12, 0.01);
    const BranchId ammeter = metered.source("A1", "plus", "q", 0);
    metered.resistor("L1", "q", "0", 5.99);
    const OperatingPoint shown = core_point(metered.network());
    CHECK(shown.volts[metered.joint("q").index] == Approx(5.99 * 2));
    CHECK(shown.amps[ammeter.index] == Approx(2));
}

TEST_CASE("networks that differ in a source without ohms are told apart in a sweep") {
    BranchCircuit made;
    const BranchId source = made.source("B1", "plus", "0", 12);
    made.resistor("R1", "plus", "mid", 1);
    made.resistor("R2", "mid", "0", 2);
    std::vector<Network> networks(3, made.network());
    networks[1].at(source).law = Source{9, 9, 0};
    networks[2].at(source).law = Source{9, 9, 0};
    std::vector<const Network*> asked;
    for (const Network& network : networks) asked.push_back(&network);
    std::vector<SolveResult> answers(networks.size(), tl::unexpected(SolveFailure{}));
    CoreSimulator core(ngspice());
    core.solve_all(asked, answers);
    const double expected[] = {8, 6, 6};
    for (std::size_t i = 0; i < answers.size(); ++i) {
        REQUIRE(answers[i]);
        CHECK(answers[i]->volts[made.joint("mid").index] == Approx(expected[i]));
    }
}

TEST_CASE("hundreds of kilovolts over plain ohms divide as any volts do") {
    BranchCircuit made;
    made.source("B1", "n0", "0", 9e5, 0.013);
    constexpr int pieces = 12;
    for (int i = 0; i < pieces; ++i) {
        const std::string to = i + 1 == pieces ? "0" : "n" + std::to_string(i + 1);
        made.resistor("R" + std::to_string(i), "n" + std::to_string(i), to, 3.7 * (i + 1));
    }
    const OperatingPoint point = core_point(made.network());
    const double amps = 9e5 / (0.013 + 3.7 * pieces * (pieces + 1) / 2);
    double volts = 9e5 - 0.013 * amps;
    for (int i = 0; i < pieces; ++i) {
        CHECK(point.volts[made.joint("n" + std::to_string(i)).index] == Approx(volts).epsilon(1e-5));
        volts -= 3.7 * (i + 1) * amps;
    }
}

TEST_CASE("what no network may have is refused with its value, never solved") {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    constexpr double infinite = std::numeric_limits<double>::infinity();
    const struct {
        Law law;
        const char* message;
    } rows[] = {{Resistor{nan}, "impossible value nan"},
                {Stage{nan, 0}, "impossible value nan"},
                {Stage{infinite, 0}, "impossible value 0"}};
    for (const auto& row : rows) {
        BranchCircuit made;
        made.source("B1", "plus", "0", 12, 0.01);
        made.branch("X1", "plus", "0", row.law);
        const std::string told = refusal_of(made.network());
        INFO(told);
        CHECK(told.find(row.message) != std::string::npos);
    }
    BranchCircuit far;
    far.source("B1", "plus", "0", 1e7, 1);
    far.resistor("R1", "plus", "0", 10);
    CHECK(refusal_of(far.network()).find("volts or speed without bound") != std::string::npos);
}

TEST_CASE("a start that has no solution is told as one, and the next start is right") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12, 0.01);
    const BranchId load = made.resistor("R1", "plus", "0", 11.99);
    const TransientRun run{0.01, 0.001, {load}};
    const auto told = [&](const Network& network, const TransientRun& wanted) {
        const TransientResult result = ngspice().transient(network, wanted);
        return result ? std::string("started") : result.error().message;
    };
    Network wrong = made.network();
    wrong.at(load).law = Resistor{std::numeric_limits<double>::quiet_NaN()};
    CHECK(told(wrong, run).find("impossible value nan") != std::string::npos);
    Network far = made.network();
    far.at(BranchId{0}).law = Source{1e7, 1e7, 1};
    CHECK(told(far, run) == "the start-up has no solution (volts or speed without bound)");
    CHECK(told(made.network(), {0, 0.001, {load}}).starts_with("the start-up has no solution ("));
    const TransientResult right = ngspice().transient(made.network(), run);
    REQUIRE(right);
    CHECK(right->amps[0].back() == Approx(1).epsilon(1e-6));
}

TEST_CASE("the limit of a call is what its setting says, where that is a number of seconds in a day") {
    for (const auto& [text, seconds] :
         {std::pair{"1", 1}, std::pair{"30", 30}, std::pair{"86400", 86400}, std::pair{"", 120}, std::pair{"0", 120},
          std::pair{"-5", 120}, std::pair{"86401", 120}, std::pair{"soon", 120}, std::pair{"99999999999", 120}})
        CHECK(limit_said(text) == std::chrono::seconds(seconds));
}

TEST_CASE("a circuit without relays has no second answer") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12, 0.01);
    made.resistor("R1", "plus", "0", 6);
    const SettleResult settled = settle_network(testing::solver(), made.network(), SecondAnswer::look_for);
    REQUIRE(settled);
    CHECK(settled->holding.empty());
}

TEST_CASE("relays that hold are those of a second answer that was found") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const State hi = state_named(*circuit, "hi");
    for (long lost = 1;; ++lost) {
        LostSolves simulator(lost);
        const SettleResult settled = settle(simulator, *circuit, hi, {}, {}, SecondAnswer::look_for);
        if (!simulator.has_lost()) break;
        if (settled)
            CHECK(settled->holding.empty());
        else
            CHECK(settled.error().message == "lost on purpose");
    }
}

TEST_CASE("diodes of every sort beside a source without ohms settle as the simulator of record has them") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    const double emissions[] = {1, 1.9, 2.5, 1.2, 1, 3, 1.6};
    int i = 0;
    for (const double emission : emissions) {
        const std::string n = std::to_string(i++);
        made.resistor("R" + n, "plus", "a" + n, 0.05 * (1 + i * i * i));
        made.branch("D" + n, "a" + n, "k" + n, Diode{1e-14, emission});
        made.branch("E" + n, "k" + n, "0", Diode{1e-9, 1});
        made.branch("Z" + n, "0", "a" + n, Diode{1e-12, 1.5});
    }
    const OperatingPoint point = core_point(made.network());
    // Each string's amperes are what its resistor leaves.
    for (int s = 0; s < i; ++s) {
        const double a = point.volts[made.joint("a" + std::to_string(s)).index];
        CHECK(a > 0.5);
        CHECK(a < 6);
    }
}

TEST_CASE("a load of no kind is a motor where its branch is one, else it is seen by its watts") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5, 0.001);
    Part fan;
    fan.name = "M1";
    fan.load_branch = made.branch("M1", "plus", "0", plain_motor());
    Part coil;
    coil.name = "R1";
    coil.load_branch = made.resistor("R1", "plus", "0", 10);
    Part plain;
    plain.name = "X1";
    plain.kind = find_kind("connector");
    plain.load_branch = made.resistor("X1", "plus", "0", 20);
    made.circuit().parts = {fan, coil, plain};
    const SettleResult settled = settle_network(testing::solver(), made.network());
    REQUIRE(settled);
    const LoadState turning = load_state(*settled, PartId{0}, nullptr);
    REQUIRE(turning.rpm);
    CHECK(std::abs(*turning.rpm) == Approx(3500).epsilon(0.01));
    CHECK(turning.seen == LoadSeen::normal);
    const LoadState warm = load_state(*settled, PartId{1}, nullptr);
    CHECK_FALSE(warm.rpm);
    CHECK(warm.seen == LoadSeen::normal);
    CHECK(load_state(*settled, PartId{2}, nullptr).seen == LoadSeen::normal);
}

TEST_CASE("a wire that rubs at its very end carries there what its whole length carries") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const WireId wire = circuit->find_wire("542");
    const State hi = state_named(*circuit, "hi");
    for (const char* fault : {"542 chafe 0.5ohm at 0%", "542 chafe 0.5ohm at 100%"}) {
        const SettleResult settled = settle(testing::solver(), *circuit, hi, faults_named(*circuit, fault));
        REQUIRE(settled);
        const WireAmps amps = wire_amps(*settled, wire);
        INFO(fault);
        CHECK(std::isfinite(amps.from));
        CHECK(amps.from == amps.to);
        CHECK(amps.from > 5);
    }
}

TEST_CASE("mending a wire mends all of its pieces, and turning a fan by hand moves it off its dead spot") {
    const Circuit& circuit = two_controls();
    const Fault piece = faults_named(circuit, "801:2 open").front();
    const Fault spot = faults_named(circuit, "M1 dead-spot").front();
    State state;
    CHECK(present(circuit, piece, state));
    state.mended = {"802"};
    CHECK(present(circuit, piece, state));
    state.mended = {"801"};
    CHECK_FALSE(present(circuit, piece, state));
    CHECK(present(circuit, spot, state));
    state.handled = {"turn M1"};
    CHECK_FALSE(present(circuit, spot, state));
    state.handled = {"turn M2"};
    CHECK(present(circuit, spot, state));
}

TEST_CASE("a drawn key that is the only control is set as the key, and nothing else is said of it") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
S0 = "key: off acc=75 on=75+15 start=15+50"
F1 = "fuse 10A mini, feed 15"
L1 = "lamp 21W"
G1 = "ground"
[wires]
1 = "F1.2 > L1.1 1mm2 RD 1m"
2 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S0 = "key"
)");
    const StatePhrase said = definite(*circuit, {});
    CHECK(said.settings.empty());
    CHECK(said.key == KeyPosition::on);
    CHECK(states_of(*circuit, {}).front().label == "key on");
    const auto labels = [&] {
        std::set<std::string> all;
        for (const State& state : default_states(*circuit)) all.insert(state.label);
        return all;
    }();
    CHECK(labels.contains("key on"));
    CHECK(labels.contains("key off"));
}

TEST_CASE("a battery behind a plug of its own still gives the volts that a state asks for") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 10mohm"
R1 = "resistor 5ohm 50W"
[plugs]
B1 = "C9"
[wires]
1 = "B1+ > R1.1 6mm2 RD 0.1m"
2 = "R1.2 > B1- 6mm2 BK 0.1m"
)");
    State state = default_states(*circuit).front();
    state.supply_volts = 10;
    const SettleResult settled = settle(testing::solver(), *circuit, state, {});
    REQUIRE(settled);
    const BranchId load = circuit->part(circuit->find_part("R1")).load_branch;
    CHECK(std::abs(settled->point.amps[load.index]) == Approx(2).epsilon(0.01));
}

TEST_CASE("electronics whose stage is held open give nothing, and held closed all") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 40A maxi, feed 30"
M1 = "motor 19.8A @13.5V, 3500rpm, stall 79.2A"
G1 = "ground"
Z1 = "module linear, side low, command 0.8V-6.9V, open command off"
H1 = "head OUT: off=0V lo=2.1V hi=6.9V"
[wires]
10 = "F1.2 > M1.1 6mm2 RD 1m"
11 = "M1.2 > Z1.M- 6mm2 OG 0.3m"
12 = "F1.2 > Z1.+ 4mm2 RD 0.5m"
13 = "Z1.- > G1 6mm2 BK 0.5m"
20 = "F1.2 > H1.+ 1mm2 RD 1m"
21 = "H1.OUT > Z1.CMD 1mm2 GN 1m"
22 = "H1.- > G1 1mm2 BK 0.3m"
)");
    const BranchId first = circuit->part(circuit->find_part("Z1")).electronics->driven.front();
    const BranchId winding = circuit->part(circuit->find_part("M1")).load_branch;
    const auto amps = [&](const std::string& state, bool closed) {
        const std::vector<Fault> held{fault_of("Z1", "held", {HoldContact{first, closed}})};
        const SettleResult settled = settle(testing::solver(), *circuit, state_named(*circuit, state), held);
        REQUIRE(settled);
        return std::abs(settled->point.amps[winding.index]);
    };
    CHECK(amps("hi", false) < 0.01);
    CHECK(amps("off", true) > 15);
}

TEST_CASE("of jobs that fail together one failure is thrown, and no workers at all are one") {
    constexpr int workers = 2;
    std::barrier together(workers);
    const auto failing = [&](std::size_t job) {
        together.arrive_and_wait();
        throw std::runtime_error("job " + std::to_string(job));
    };
    std::string told;
    try {
        run_jobs(workers, workers, failing);
    } catch (const std::runtime_error& error) {
        told = error.what();
    }
    CHECK((told == "job 0" || told == "job 1"));
    std::set<std::size_t> done;
    run_jobs(5, 0, [&](std::size_t job) { done.insert(job); });
    CHECK(done == std::set<std::size_t>{0, 1, 2, 3, 4});
}

TEST_CASE("the report of a bug names its state, its faults and its supply") {
    /// A point whose currents do not add up.
    class Liar final : public Simulator {
    public:
        SolveResult solve(const Network& network) override {
            SolveResult point = ngspice().solve(network);
            if (point) point->amps[network.circuit->part(network.circuit->find_part("F7")).fuse->element.index] += 3;
            return point;
        }
    };
    const auto circuit = scenario_circuit("cab-blower.toml");
    State state = state_named(*circuit, "hi");
    state.supply_volts = 11;
    Liar liar;
    std::string told;
    try {
        settle(liar, *circuit, state, faults_named(*circuit, "C101.4 resistance 0.3ohm"));
    } catch (const UnsoundCase& bug) {
        told = bug.what();
    }
    INFO(told);
    CHECK(told.find(" at hi with C101.4 resistance 0.3ohm on 11V") != std::string::npos);
}

}  // namespace voltfall::test
