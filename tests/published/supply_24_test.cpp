// What is taken where the file of a 24 V vehicle is silent, each held against a published row.
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/solved.hpp"

namespace voltfall::test {

namespace {

constexpr double per_mille = 1e-3;

std::shared_ptr<const Circuit> circuit_24(const std::string& parts, const std::string& wires = "") {
    return testing::circuit_of("format = 1\nsupply = \"24V\"\n[parts]\n" + parts + "[wires]\n" + wires);
}

/// The part X1 of a 24 V circuit, written with nothing but its kind and what it must say.
Part part_24(const std::string& line) {
    const auto circuit = circuit_24("B1 = \"battery\"\nX1 = \"" + line + "\"\n");
    return circuit->part(circuit->find_part("X1"));
}

Settled settled_at_rest(const Circuit& circuit) {
    State state = default_states(circuit).front();
    state.key = KeyPosition::on;
    SettleResult settled = settle(NgspiceSession::instance(), circuit, state, {});
    REQUIRE(settled);
    return *std::move(settled);
}

}  // namespace

TEST_CASE("A05 and a lorry's charging guide: a 24 V battery at rest and with the alternator running") {
    const auto circuit = circuit_24("B1 = \"battery\"\n");
    const Part& battery = circuit->part(circuit->battery);
    // A05, READ: 25.2 V charged, open circuit, within 0.3 V. vincek-techlib.com/guide/alternator: 24.8 to 25.4 V at
    // rest, 27.0 to 29.0 V charging, weak below 24.0 V.
    CHECK(battery.value("rest volts") == Approx(25.2).margin(0.3));
    CHECK(battery.value("rest volts") > 24.8);
    CHECK(battery.value("rest volts") < 25.4);
    CHECK(battery.value("charging volts") == 28.0);
    CHECK(battery.value("charging volts") > 27.0);
    CHECK(battery.value("charging volts") < 29.0);
    CHECK(default_value("weak_volts_24") < 24.0);
    CHECK(battery.value("ohms") == default_value("battery_ohm_24"));
}

TEST_CASE("C4 and S46: the coil of a 24 V relay, its pull-in and drop-out") {
    const Part relay = part_24("relay 20A");
    // dtsheet.com/doc/683071, READ: 320 ohm, 14.8 V at most, 2.4 V at least.
    CHECK(relay.value("coil ohms") == 320);
    CHECK(relay.value("pull volts") == 14.8);
    CHECK(relay.value("drop volts") == 2.4);
    // novapart.co CB1R24, READ: such a coil with 2.8 kohm across reads 287.2 ohm; E11: 83.6 mA at 24 V.
    const auto circuit = circuit_24("B1 = \"battery 24V 0.1mohm\"\nK1 = \"relay 20A, resistor 2800ohm\"\n",
                                    "1 = \"B1+ > K1.86 1mm2 RD 0.1m\"\n2 = \"K1.85 > B1- 1mm2 BK 0.1m\"\n");
    const Settled settled = settled_at_rest(*circuit);
    const double amps = std::abs(settled.point.amps[circuit->wires[0].first_half.index]);
    CHECK(amps == within(83.6e-3, 1e-3));
    CHECK(24 / amps == within(287.2, 1e-3));
    CHECK(settled.relay_pulled[circuit->find_part("K1").index]);
}

TEST_CASE("S60: a 24 V clutch coil, and the 23 V that it must have at the compressor over wires of default length") {
    CHECK(part_24("clutch").value("coil ohms") == Approx(17.6).margin(0.6));
    const auto circuit = circuit_24(
        "B1 = \"battery\"\nF1 = \"fuse 10A mini, feed 30\"\nK1 = \"relay 20A\"\nF2 = \"fuse 5A mini, feed 15\"\n"
        "A1 = \"clutch\"\nG1 = \"ground\"\n",
        "10 = \"F1.2 > K1.30 1mm2 RD\"\n11 = \"K1.87 > A1.1 1mm2 RD\"\n12 = \"A1.2 > G1 1mm2 BK\"\n"
        "20 = \"F2.2 > K1.86 1mm2 RD\"\n21 = \"K1.85 > G1 1mm2 BK\"\n");
    for (const Wire& wire : circuit->wires) CHECK(wire.length.value == 2 * default_value("wire_length_12"));
    const Settled settled = settled_at_rest(*circuit);
    const BranchId coil = circuit->part(circuit->find_part("A1")).load_branch;
    const Branch& branch = circuit->branch(coil);
    const double volts = settled.point.volts[branch.a.index] - settled.point.volts[branch.b.index];
    CHECK(volts > 23);
    CHECK(volts < 25.2);
    // 1.36 A at 24 V (DERIVED from S60).
    CHECK(std::abs(settled.point.amps[coil.index]) * 24 / volts == within(1.364, 1e-2));
}

TEST_CASE("reference parts 1.5 (DERIVED from S1): the constants of a 24 V blower from its amps alone") {
    const Part motor = part_24("motor 9.9A");
    CHECK(motor.value("rated volts") == 27);
    CHECK(motor.value("stall amps") == within(39.6, 1e-9));
    const Motor made =
        motor_from_nameplate({motor.value("rated volts"), motor.value("rated amps"), motor.value("rated rpm"),
                              motor.value("stall amps"), 0, motor.value("brush volts")});
    CHECK(made.armature_ohms == within(0.65657, per_mille));
    CHECK(made.constant == within(0.053203, per_mille));
    CHECK(made.fan_torque == within(3.9208e-6, per_mille));
    CHECK(made.constant * 9.9 == within(0.5267, per_mille));
    CHECK(motor.value("inductance") == within(600e-6, 1e-9));
    CHECK(part_24("fan-unit 9.9A").value("rated volts") == 27);
}

TEST_CASE("ISO 16750-2: where electronics stop lies between the codes of their system") {
    // 360docs.net/doc/2715450321, READ: at least 6, 8, 9 or 10.5 V in 12 V systems, 10, 16, 22 or 18 V in 24 V ones.
    CHECK(default_value("electronics_live_12") > 6);
    CHECK(default_value("electronics_live_12") < 8);
    CHECK(default_value("electronics_live_24") > 10);
    CHECK(default_value("electronics_live_24") < 16);
    // A fan unit on a 24 V system that has fallen to 12 V stands still; on a 12 V system it runs.
    const auto amps_at = [](const std::string& supply) {
        const auto circuit = testing::circuit_of(
            "format = 1\nsupply = \"" + supply +
            "\"\n[parts]\nB1 = \"battery 12V 1mohm\"\nX1 = \"fan-unit 10A, command 10%-90%, open command full\"\n"
            "[wires]\n1 = \"B1+ > X1.+ 2.5mm2 RD 1m\"\n2 = \"X1.- > B1- 2.5mm2 BK 1m\"\n");
        return std::abs(settled_at_rest(*circuit).point.amps[circuit->wires[0].first_half.index]);
    };
    CHECK(amps_at("12V") > 2);
    CHECK(amps_at("24V") < 0.1);
}

}  // namespace voltfall::test
