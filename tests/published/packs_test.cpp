// Published resistor packs (reference parts 2 and wires 6), and a published limit of volts along a wire.
#include <memory>
#include <string>

#include "engine/figures/limits.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "tests/support/scenario.hpp"

namespace voltfall::test {

namespace {

std::shared_ptr<const Circuit> read(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "published.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.message);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

/// The reference blower behind the pack of S22, switched to ground: low, medium low, medium high, high.
std::shared_ptr<const Circuit> four_speeds(const std::string& limiter) {
    return read(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 1mohm, charging 13.5V\"\nF1 = \"fuse 30A maxi, feed 30\"\n"
        "M1 = \"motor 19.8A @13.5V, 3500rpm, stall 79.2A\"\nR1 = \"pack LO 0.96ohm ML 0.56ohm MH 0.31ohm C, limiter " +
        limiter +
        "\"\nS1 = \"switch C: off lo=1 ml=2 mh=3 hi=4\"\nG1 = \"ground\"\n[wires]\n"
        "w1 = \"F1.2 > M1.1 6mm2 RD 0.1m\"\nw2 = \"M1.2 > R1.C 6mm2 BK 0.1m\"\nw3 = \"R1.LO > S1.1 6mm2 YE 0.1m\"\n"
        "w4 = \"R1.ML > S1.2 6mm2 YE 0.1m\"\nw5 = \"R1.MH > S1.3 6mm2 YE 0.1m\"\nw6 = \"M1.2 > S1.4 6mm2 YE 0.1m\"\n"
        "w7 = \"S1.C > G1 6mm2 BK 0.1m\"\n[controls]\nS1 = \"blower\"\n");
}

/// The speeds at which the motor turns, with a fault: "lo ml mh hi".
std::string runs(const Circuit& circuit, const std::string& fault) {
    const BranchId winding = circuit.part(circuit.find_part("M1")).load_branch;
    std::string text;
    for (const char* speed : {"lo", "ml", "mh", "hi"}) {
        const std::vector<Fault> faults = fault.empty() ? std::vector<Fault>{} : faults_named(circuit, fault);
        const SettleResult settled = settle(NgspiceSession::instance(), circuit, state_named(circuit, speed), faults);
        REQUIRE(settled);
        if (settled->point.speed[winding.index] > 1) text += (text.empty() ? "" : " ") + std::string(speed);
    }
    return text;
}

}  // namespace

TEST_CASE("E14 (S22, READ; speeds lost DERIVED): a chain of 0.96, 0.56 and 0.31 ohm") {
    const auto circuit = four_speeds("121C");
    // From terminal to common: 1.83, 0.87 and 0.31 ohm.
    double ohms = 0;
    const double to_common[] = {0.31, 0.87, 1.83};
    const std::vector<Coil>& coils = circuit->part(circuit->find_part("R1")).coils;
    REQUIRE(coils.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        ohms += coils[2 - i].ohms.value;
        CHECK(ohms == Approx(to_common[i]).margin(0.01));
    }
    CHECK(runs(*circuit, "") == "lo ml mh hi");
    CHECK(runs(*circuit, "R1 coil MH-C open") == "hi");
    CHECK(runs(*circuit, "R1 coil ML-MH open") == "mh hi");
    CHECK(runs(*circuit, "R1 coil LO-ML open") == "ml mh hi");
}

TEST_CASE("a limiter that has opened leaves high alone, at whatever it opens (reference parts 2.3: 121, 184, 220 C)") {
    for (const auto& [typed, celsius] :
         {std::pair{"121C", 121.0}, std::pair{"250F", 121.1}, std::pair{"184C", 184.0}, std::pair{"363F", 183.9},
          std::pair{"220C", 220.0}, std::pair{"428F", 220.0}}) {
        INFO(typed);
        const auto circuit = four_speeds(typed);
        CHECK(circuit->part(circuit->find_part("R1")).limiters.front().opens_at.value == Approx(celsius).margin(0.06));
        CHECK(runs(*circuit, "R1 limiter open") == "hi");
    }
}

TEST_CASE("E12 (D9, READ): an alternator's wire may drop 0.3 V at 30 A, which is 10 mohm") {
    const auto drops = [](const std::string& milliohms) {
        const auto circuit = read(
            "format = 1\n[parts]\nB1 = \"battery 12V 0.1mohm\"\nC1 = \"connector, contact " + milliohms +
            "mohm\"\nL1 = \"lamp 360W 12V\"\n[wires]\nw1 = \"B1+ > C1.1 16mm2 RD 0.01m\"\nw2 = \"C1.1 > L1.1 16mm2 RD "
            "0.01m\"\nw3 = \"L1.2 > B1- 16mm2 BK 0.01m\"\n[limits]\nfeed = \"0.3V\"\n");
        const State on = default_states(*circuit).front();
        const SettleResult settled = settle(NgspiceSession::instance(), *circuit, on, {});
        REQUIRE(settled);
        const auto figures = check_limits(NgspiceSession::instance(), *circuit, on, {}, *settled, *settled);
        REQUIRE(figures);
        for (const LimitFigure& figure : *figures) {
            if (figure.what == "feed of L1") return std::pair{figure.healthy, figure.holds(figure.healthy)};
        }
        FAIL("no feed of L1");
        return std::pair{0.0, false};
    };
    const auto within_limit = drops("9.9");
    CHECK(within_limit.first == Approx(0.297).epsilon(0.03));
    CHECK(within_limit.second);
    const auto beyond = drops("12");
    CHECK(beyond.first == Approx(0.36).epsilon(0.03));
    CHECK_FALSE(beyond.second);
}

}  // namespace voltfall::test
