// Relays, motors and weak joints settled around the operating point, on hand-made circuits.
#include "engine/solve/settled.hpp"
#include "netlists/files/circuit_file.hpp"

#include <cmath>

#include "engine/ngspice/ngspice_session.hpp"
#include "netlists/parts/motor.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/dense_oracle.hpp"

namespace voltfall::test {

namespace {

NgspiceSession& session() {
    return NgspiceSession::instance();
}

constexpr double coil_ohms = 90;

/// A relay whose coil hangs on a supply of some volts and whose contact feeds a lamp.
struct RelayCircuit {
    explicit RelayCircuit(double volts, double series_ohms = 0) {
        made.source("B1", "plus", "0", volts, 0.01);
        series = made.resistor("feed", "plus", "86", series_ohms);
        coil = made.resistor("coil", "86", "0", coil_ohms);
        open = made.branch("87", "plus", "lamp", Contact{0.002, false});
        closed = made.branch("87a", "plus", "rest", Contact{0.002, true});
        lamp = made.resistor("L1", "lamp", "0", 7);
        made.resistor("L2", "rest", "0", 7);
        relay = made.relay("K1", coil, coil_ohms, 7.2, 1.2, open, closed);
    }
    BranchCircuit made;
    BranchId series, coil, open, closed, lamp;
    PartId relay;
};

bool pulled(const SettleResult& settled, PartId relay) {
    return settled->relay_pulled[relay.index];
}

Motor blower() {
    return motor_from_nameplate({13.5, 20, 3500, 80, 2, 1.0});
}

}  // namespace

TEST_CASE("a relay pulls at its pull-in volts, closes its contact and opens the other") {
    const RelayCircuit strong(12.6);
    SettleResult settled = settle_network(session(), strong.made.network());
    REQUIRE(settled);
    CHECK(pulled(settled, strong.relay));
    CHECK(settled->point.amps[strong.lamp.index] > 1.5);
    CHECK(settled->network.conducts(strong.open));
    CHECK_FALSE(settled->network.conducts(strong.closed));

    const RelayCircuit weak(7.0);
    settled = settle_network(session(), weak.made.network());
    REQUIRE(settled);
    CHECK_FALSE(pulled(settled, weak.relay));
    CHECK(std::abs(settled->point.amps[weak.lamp.index]) < 1e-9);
}

TEST_CASE("a relay pulls at its pull-in volts and lets go at its drop-out volts, not the other way round") {
    // K1 pulls at 7.2 V and lets go at 1.2 V. The battery's 10 mohm with two lamps of 7 ohm behind it cost 36 mV at
    // most.
    struct Row {
        double volts;
        bool pulls;
        bool stays;  ///< pulled, once it has been
    };
    for (const Row& row : {Row{1.1, false, false}, Row{1.3, false, true}, Row{4, false, true}, Row{7.1, false, true},
                           Row{7.3, true, true}, Row{12.6, true, true}}) {
        INFO(row.volts << " V");
        const RelayCircuit made(row.volts);
        const SettleResult settled = settle_network(session(), made.made.network(), SecondAnswer::look_for);
        REQUIRE(settled);
        CHECK(settled->chattering.empty());
        CHECK(pulled(settled, made.relay) == row.pulls);
        CHECK((settled->holding == std::vector<PartId>{made.relay}) == (row.stays && !row.pulls));
    }
}

TEST_CASE("a relay goes by coil current times its healthy ohms, not by the volts across it") {
    const RelayCircuit made(12.6);
    Network network = made.made.network();
    // Volts across the coil stay 12.6, its current is a tenth.
    network.at(made.coil).added_ohms = 9 * coil_ohms;
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    CHECK_FALSE(pulled(settled, made.relay));
}

TEST_CASE("a relay that opens its own coil's feed chatters, is left dropped and is reported") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    const BranchId contact = made.branch("87a", "plus", "86", Contact{0.002, true});
    const BranchId coil = made.resistor("coil", "86", "0", coil_ohms);
    const PartId relay = made.relay("K1", coil, coil_ohms, 7.2, 1.2, {}, contact);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->chattering == std::vector<PartId>{relay});
    CHECK_FALSE(pulled(settled, relay));
    CHECK(settled->point.amps[coil.index] > 0.1);
}

TEST_CASE("a holding circuit starts dropped and is listed as holding when asked for") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    const BranchId contact = made.branch("87", "plus", "86", Contact{0.002, false});
    const BranchId coil = made.resistor("coil", "86", "0", coil_ohms);
    made.branch("start button", "plus", "86", Contact{0.002, false});
    const PartId relay = made.relay("K1", coil, coil_ohms, 7.2, 1.2, contact);
    const SettleResult plain = settle_network(session(), made.network());
    REQUIRE(plain);
    CHECK_FALSE(pulled(plain, relay));
    CHECK(plain->holding.empty());
    const SettleResult asked = settle_network(session(), made.network(), SecondAnswer::look_for);
    REQUIRE(asked);
    CHECK_FALSE(pulled(asked, relay));
    CHECK(asked->holding == std::vector<PartId>{relay});
}

TEST_CASE("of two relays that break each other's coil one wins and neither chatters") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    const BranchId first_breaks = made.branch("K1 87a", "plus", "K2.86", Contact{0.002, true});
    const BranchId second_breaks = made.branch("K2 87a", "plus", "K1.86", Contact{0.002, true});
    const BranchId first_coil = made.resistor("K1", "K1.86", "0", coil_ohms);
    const BranchId second_coil = made.resistor("K2", "K2.86", "0", coil_ohms);
    const PartId first = made.relay("K1", first_coil, coil_ohms, 7.2, 1.2, {}, first_breaks);
    const PartId second = made.relay("K2", second_coil, coil_ohms, 7.2, 1.2, {}, second_breaks);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->chattering.empty());
    CHECK(pulled(settled, first) != pulled(settled, second));
}

TEST_CASE("a contact that a fault holds is not moved by its relay") {
    const RelayCircuit made(0.5);
    Network network = made.made.network();
    const std::vector<Change> weld{HoldContact{made.open, true}};
    network.apply(weld);
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    CHECK_FALSE(pulled(settled, made.relay));
    CHECK(settled->network.conducts(made.open));
    CHECK(settled->point.amps[made.lamp.index] > 0.05);
}

TEST_CASE("a motor runs forward, backwards on reversed supply, and stands where its friction is not beaten") {
    struct Row {
        double volts;
        Turning turning;
    };
    for (const Row& row : {Row{13.5, Turning::forward}, Row{-13.5, Turning::backward}, Row{1.05, Turning::standing},
                           Row{0, Turning::standing}, Row{-1.05, Turning::standing}}) {
        INFO(row.volts << " V");
        BranchCircuit made;
        made.source("B1", "plus", "0", row.volts, 0.01);
        const BranchId motor = made.branch("M1", "plus", "0", blower());
        const SettleResult settled = settle_network(session(), made.network());
        REQUIRE(settled);
        CHECK(settled->network.at(motor).turning == row.turning);
        const double speed = settled->point.speed[motor.index];
        if (row.turning == Turning::standing) CHECK(std::abs(speed) < 1e-5);
        if (row.turning != Turning::standing) CHECK(speed * row.volts > 1000);
    }
}

TEST_CASE("a motor on its nameplate supply has its nameplate current and speed") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5);
    const BranchId motor = made.branch("M1", "plus", "0", blower());
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->point.amps[motor.index] == Approx(20).epsilon(1e-6));
    CHECK(settled->point.speed[motor.index] == Approx(radians_per_second(3500)).epsilon(1e-6));
}

TEST_CASE("a seized motor draws its stall current and stands") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5);
    Motor held = blower();
    held.rotor = Rotor::seized;
    const BranchId motor = made.branch("M1", "plus", "0", held);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->point.amps[motor.index] == Approx(80).epsilon(1e-4));
    CHECK(std::abs(settled->point.speed[motor.index]) < 1e-4);
}

TEST_CASE("a motor fed through a relay that pulls runs, and one that loses its path stands") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5, 0.008);
    const BranchId coil = made.resistor("coil", "plus", "0", coil_ohms);
    const BranchId contact = made.branch("87", "plus", "m", Contact{0.002, false});
    const BranchId motor = made.branch("M1", "m", "0", blower());
    made.relay("K1", coil, coil_ohms, 7.2, 1.2, contact);
    SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->point.speed[motor.index] > 300);
    Network open = made.network();
    open.at(coil).open = true;
    settled = settle_network(session(), open);
    REQUIRE(settled);
    CHECK(std::abs(settled->point.speed[motor.index]) < 1e-5);
    CHECK(settled->network.at(motor).turning == Turning::standing);
}

TEST_CASE("a motor keeps its direction when a relay's contact moves") {
    // Poled backwards: 13.5 V, 10 mohm, a shunt of 0.1 ohm and the armature of 12.5 V / 80 A = 0.156 ohm. While it
    // stands before it turns back, (13.5 - 1) V / 0.266 ohm = 47 A leave 4.7 V on the shunt; running, some 20 A leave 2
    // V. Three relays hang on the shunt, each behind the contact of the one before: they pull one by one while the
    // motor stands.
    BranchCircuit made;
    made.source("B1", "plus", "0", -13.5, 0.01);
    const BranchId motor = made.branch("M1", "plus", "shunt", blower());
    made.resistor("shunt", "shunt", "0", 0.1);
    std::vector<PartId> relays;
    std::string feed = "shunt";
    for (const std::string name : {"K1", "K2", "K3"}) {
        const BranchId coil = made.resistor(name, feed, "0", coil_ohms);
        const BranchId contact = made.branch(name, "shunt", name + ".87", Contact{0.002, false});
        relays.push_back(made.relay(name, coil, coil_ohms, 3.5, 1.0, contact));
        feed = name + ".87";
    }
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->chattering.empty());
    for (const PartId relay : relays) CHECK(pulled(settled, relay));
    CHECK(settled->network.at(motor).turning == Turning::backward);
    CHECK(settled->point.speed[motor.index] < -radians_per_second(2500));
    CHECK(std::abs(settled->point.amps[motor.index]) < 25);
}

TEST_CASE("a motor that runs backwards turns round when relays pole it the other way") {
    // K1 and K2 at rest hold the motor against the supply; K0 pulls on the shunt's 2.7 V while the motor stands (12.5 V
    // / 0.466 ohm = 27 A), and puts the other two across the motor. They pull at 7.5 V, which is there once it runs: 9
    // V instead of 5 V.
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5, 0.01);
    made.resistor("feed", "plus", "p", 0.2);
    made.resistor("shunt", "g", "0", 0.1);
    const BranchId motor = made.branch("M1", "x", "y", blower());
    const BranchId x_plus = made.branch("K1", "p", "x", Contact{0.001, false});
    const BranchId x_minus = made.branch("K1", "x", "g", Contact{0.001, true});
    const BranchId y_minus = made.branch("K2", "y", "g", Contact{0.001, false});
    const BranchId y_plus = made.branch("K2", "p", "y", Contact{0.001, true});
    const BranchId starts = made.branch("K0", "x", "c", Contact{0.001, false});
    const BranchId zero = made.resistor("K0", "g", "0", coil_ohms);
    const BranchId one = made.resistor("K1", "c", "y", coil_ohms);
    const BranchId two = made.resistor("K2", "c", "y", coil_ohms);
    made.relay("K0", zero, coil_ohms, 2.2, 0.3, starts);
    const PartId first = made.relay("K1", one, coil_ohms, 7.5, 1.2, x_plus, x_minus);
    const PartId second = made.relay("K2", two, coil_ohms, 7.5, 1.2, y_minus, y_plus);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->chattering.empty());
    CHECK((pulled(settled, first) && pulled(settled, second)));
    CHECK(settled->network.at(motor).turning == Turning::forward);
    // Its torque carries friction and fan, 2 A and 18 A at 3500 rpm.
    const double share = settled->point.speed[motor.index] / radians_per_second(3500);
    CHECK(share > 0.7);
    CHECK(settled->point.amps[motor.index] == Approx(2 + 18 * share * share).epsilon(1e-3));
}

TEST_CASE("joints that nothing ties to the reference float; behind a blocked diode they are weak and metered") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    made.branch("D1", "cathode", "plus", Diode{1e-14, 1.0});  // nothing drives it forward
    const BranchId wire = made.resistor("W1", "plus", "stub", 0.01);
    Network network = made.network();
    network.at(wire).open = true;
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    CHECK(settled->floats(made.joint("stub")));
    CHECK(settled->floating.size() == 1);
    CHECK(settled->weak == std::vector<JointId>{made.joint("cathode")});
    // 10 Mohm against a blocked junction: next to nothing.
    CHECK(std::abs(settled->point.volts[made.joint("cathode").index]) < 0.1);
}

TEST_CASE("a conducting diode leaves nothing weak") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    made.branch("D1", "plus", "lamp", Diode{1e-14, 1.0});
    made.resistor("L1", "lamp", "0", 10);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->weak.empty());
    CHECK(settled->floating.empty());
    CHECK(settled->point.volts[made.joint("lamp").index] == Approx(11.7).margin(0.2));
}

TEST_CASE("a solution that breaks the current law is a bug, not a number") {
    class Liar final : public Simulator {
    public:
        SolveResult solve(const Network& network) override {
            SolveResult point = oracle_.solve(network);
            if (point) point->amps[1] *= 1.01;
            return point;
        }

    private:
        DenseOracle oracle_;
    };
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    made.resistor("R1", "plus", "mid", 1);
    made.resistor("R2", "mid", "0", 1);
    Liar liar;
    CHECK_THROWS_AS(settle_network(liar, made.network()), std::logic_error);
}

TEST_CASE("what cannot be solved comes back as a failure") {
    class Nothing final : public Simulator {
    public:
        SolveResult solve(const Network&) override {
            return tl::unexpected(SolveFailure{SolveFailure::Kind::engine_lost, "gone"});
        }
    };
    BranchCircuit made;
    made.resistor("R1", "a", "0", 1);
    Nothing nothing;
    const SettleResult settled = settle_network(nothing, made.network());
    REQUIRE_FALSE(settled);
    CHECK(settled.error().kind == SolveFailure::Kind::engine_lost);
}

TEST_CASE("centimetres of battery cable, microohms between contacts, are solved like any wire") {
    const CircuitReading reading = read_circuit_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 10A mini, feed 30\"\n"
        "S1 = \"switch C: off on=1\"\nL1 = \"lamp 21W\"\nG1 = \"ground, contact 0.1mohm\"\n"
        "C1 = \"connector, contact 0.05mohm\"\n[wires]\n1 = \"F1.2 > C1.1 120mm2 RD 0.05m\"\n"
        "2 = \"C1.1 > S1.C 120mm2 RD 0.05m\"\n3 = \"S1.1 > C1.2 120mm2 RD 0.05m\"\n"
        "4 = \"C1.2 > L1.1 120mm2 RD 0.05m\"\n5 = \"L1.2 > C1.3 120mm2 BK 0.05m\"\n6 = \"C1.3 > G1 120mm2 BK 0.05m\"\n",
        "cable.toml");
    REQUIRE(reading.circuit);
    for (const State& state : default_states(*reading.circuit)) {
        CHECK(settle(NgspiceSession::instance(), *reading.circuit, state, {}));
        for (const ModePtr& mode : reading.circuit->modes) {
            const Fault fault{mode, mode->size ? mode->size->usual : 0, 0.5, {}, {}};
            INFO(state.label << " " << mode->phrase());
            CHECK(settle(NgspiceSession::instance(), *reading.circuit, state, std::span(&fault, 1)));
        }
    }
}

}  // namespace voltfall::test
