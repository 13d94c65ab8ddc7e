// Parts beside a blower's own electronics: zeners, regulated sources, relays without contacts, sensors of a door.
#include <algorithm>
#include <cmath>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/worked_run.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/settled_volts.hpp"

namespace voltfall::test {

namespace {

std::shared_ptr<const Circuit> read_lines(const std::string& text) {
    const CircuitReading reading =
        read_circuit_text("format = 1\n[parts]\nB1 = \"battery 12V 1mohm\"\nG1 = \"ground\"\n" + text, "kinds.toml");
    INFO(testing::all_problems(reading.problems));
    REQUIRE(reading.circuit);
    return reading.circuit;
}

double volts_with(const Circuit& circuit, const std::string& joint, const std::string& fault = {}) {
    const std::string label = default_states(circuit).front().label;
    const Settled settled = settled_at(circuit, label, fault);
    CHECK(worst_difference(settled) < 1e-6);
    return volts_at(circuit, settled, joint) - settled.point.volts[circuit.reference.index];
}

}  // namespace

TEST_CASE("a zener holds its volts behind a resistor, and is a diode the other way round") {
    const auto held_by = [](const std::string& line, const std::string& k, const std::string& a) {
        return read_lines("R1 = \"resistor 680ohm\"\nZ1 = \"" + line +
                          "\"\n[wires]\n1 = \"B1+ > R1.1 1mm2 RD 1m\"\n2 = \"R1.2 > Z1." + k +
                          " 1mm2 RD 1m\"\n3 = \"Z1." + a + " > G1 1mm2 BK 1m\"\n");
    };
    const auto shunt = held_by("zener 5.1V", "K", "A");
    // By hand: (12 - 5.1) V / 680 ohm = 10 mA, 5 mA more than the sheet's 5 mA through a slope of 10 ohm: 5.15 V. The
    // junction's own 18 mV for twice the current come on top.
    CHECK(volts_with(*shunt, "Z1.2") == Approx(5.17).margin(0.01));
    CHECK(volts_with(*shunt, "Z1.2", "Z1 open") == Approx(12).epsilon(1e-3));
    CHECK(volts_with(*shunt, "Z1.2", "Z1 shorted") < 0.001);
    // Below its volts it carries nothing.
    CHECK(volts_with(*held_by("zener 24V", "K", "A"), "Z1.2") == Approx(12).epsilon(1e-3));
    CHECK(volts_with(*held_by("zener 24V", "A", "K"), "Z1.1") == Approx(0.7).margin(0.1));
}

TEST_CASE("a regulated source keeps its volts up to its limit, then its amperes; without a feed it gives none") {
    const auto loaded = [](const std::string& ohms) {
        return read_lines(
            "F1 = \"fuse 5A mini, feed 15\"\nV5 = \"source 5V, limit 50mA\"\nR1 = \"resistor " + ohms +
            "\"\n[wires]\n1 = \"F1.2 > V5.+ 1mm2 RD 1m\"\n2 = \"V5.OUT > R1.1 1mm2 WH 1m\"\n3 = \"R1.2 > V5.- 1mm2 BK "
            "1m\"\n4 = \"V5.- > G1 1mm2 BK 1m\"\n");
    };
    const auto light = loaded("1kohm");
    CHECK(volts_with(*light, "V5.OUT") == Approx(5).margin(0.02));
    CHECK(volts_with(*loaded("125ohm"), "V5.OUT") == Approx(5).margin(0.03));  // 40 mA
    // Beyond its limit the amperes stand: 50 mA through 20 ohm, and through a dead short.
    CHECK(volts_with(*loaded("20ohm"), "V5.OUT") == Approx(1.0).epsilon(0.01));
    CHECK(volts_with(*loaded("1ohm"), "V5.OUT") == Approx(0.05).margin(0.004));
    CHECK(std::abs(volts_with(*light, "V5.OUT", "F1 open")) < 0.001);
    CHECK(std::abs(volts_with(*light, "V5.OUT", "V5 dead")) < 0.001);
    CHECK(volts_with(*light, "V5.OUT", "V5 weak 330ohm") == Approx(5 * 1000 / 1330.2).epsilon(0.01));
}

TEST_CASE("a solid-state relay conducts while its input is fed, and for good once it has melted") {
    const auto circuit = read_lines(
        "F1 = \"fuse 20A mini, feed 30\"\nS1 = \"switch C: off on=1\"\nK1 = \"solid-relay 30A, on 5mohm\"\nL1 = "
        "\"resistor "
        "1ohm\"\n[wires]\n1 = \"F1.2 > K1.30 4mm2 RD 1m\"\n2 = \"K1.87 > L1.1 4mm2 RD 1m\"\n3 = \"L1.2 > G1 4mm2 BK "
        "1m\"\n4 = \"B1+ > S1.C "
        "1mm2 BN 1m\"\n5 = \"S1.1 > K1.86 1mm2 GN 1m\"\n6 = \"K1.85 > G1 1mm2 BK 1m\"\n");
    const auto amps = [&](const std::string& label, const std::string& fault = {}) {
        const Settled settled = settled_at(*circuit, label, fault);
        CHECK(worst_difference(settled) < 1e-6);
        return std::abs(settled.point.amps[circuit->part(circuit->find_part("L1")).load_branch.index]);
    };
    CHECK(amps("on") == Approx(14.2 / 1.03).epsilon(0.02));
    CHECK(amps("off") < 1e-6);
    CHECK(amps("on", "K1 dead") < 1e-6);
    CHECK(amps("off", "K1 shorted") == Approx(12 / 1.03).epsilon(0.02));
    CHECK(amps("on", "K1 input open") < 1e-6);
    CHECK(amps("on", "6 open") < 1e-6);
}

TEST_CASE("two door sensors on one low reference: what both read leads to the wire that they share") {
    const CircuitReading reading =
        read_circuit_file(std::string(PROJECT_DIR) + "/scenarios/electronic/blend-door.toml");
    INFO(testing::all_problems(reading.problems));
    REQUIRE(reading.circuit);
    const Circuit& circuit = *reading.circuit;
    const std::string key_on = default_states(circuit).front().label;
    const auto volts = [&](const std::string& joint, const std::string& fault) {
        return volts_at(circuit, settled_at(circuit, key_on, fault), joint);
    };
    // Healthy: the shares of their tracks; with the shared low reference open both wipers hang on 5 V.
    CHECK(volts("U1.W", "") == Approx(2.5).margin(0.1));
    CHECK(volts("U2.W", "") == Approx(1.5).margin(0.1));
    CHECK(volts("U1.W", "55 open") > 4.7);
    CHECK(volts("U2.W", "55 open") > 4.7);
    CHECK(volts("U2.W", "57 open") > 4.7);
    CHECK(volts("U1.W", "57 open") == Approx(2.5).margin(0.1));
    // A track of one door that has gone to ground takes the 5 V of both, and the source stands at its limit.
    CHECK(volts("V5.OUT", "50 chafe 0.1ohm") < 0.2);
    // The tests that the job leads to, answered as that vehicle does, end at the wire.
    const JobReading job = read_job_file(std::string(PROJECT_DIR) + "/scenarios/electronic/blend-door.job.toml");
    INFO(testing::all_problems(job.problems));
    REQUIRE(job.job);
    Technician technician(solver(), Vehicle{&circuit, {faults_named(circuit, "55 open").front()}, {}}, exact_meters(),
                          usual_tools());
    Job answered = *job.job;
    for (int taken = 0; taken < 4; ++taken) {
        const NextAnswer next = next_tests(solver(), circuit, answered);
        if (next.stop) break;
        REQUIRE_FALSE(next.tests.empty());
        const auto measured = technician.measure(next.tests.front().test);
        REQUIRE(measured);
        add_reading(answered, measured->reading);
    }
    const MatchAnswer answer = match(solver(), circuit, answered, {});
    CHECK(answer.places.front().place == "55");
    CHECK(answer.candidates.front().fault == "55 open");
}

}  // namespace voltfall::test
