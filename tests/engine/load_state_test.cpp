// What a person sees of a load, and what flows in a wire.
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/motor.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::test {

namespace {

NgspiceSession& session() {
    return NgspiceSession::instance();
}

Motor blower() {
    return motor_from_nameplate({13.5, 20, 3500, 80, 2, 1.0});
}

/// A load of some kind alone on a supply of some volts.
struct LoadCircuit {
    LoadCircuit(const std::string& kind, Law law, double volts) {
        made.source("B1", "plus", "0", volts, 0.01);
        feed = made.resistor("feed", "plus", "load", 0.001);
        Part part;
        part.name = "X1";
        part.kind = find_kind(kind);
        part.load_branch = made.branch("X1", "load", "0", law);
        part.branches = {part.load_branch};
        part.pins = {{"1", made.joint("load")}, {"2", made.joint("0")}};
        part.parameters = {{"rated rpm", 3500, Unit::rpm, "file", 0, true, false},
                           {"coil ohms", 3.6, Unit::ohm, "file", 0, true, false},
                           {"pull volts", 7.5, Unit::volt, "file", 0, true, false}};
        made.circuit().parts = {part};
    }
    Settled settled(double added_ohms = 0) const {
        Network network = made.network();
        network.at(feed).added_ohms = added_ohms;
        SettleResult result = settle_network(session(), network);
        REQUIRE(result);
        return *result;
    }
    BranchCircuit made;
    BranchId feed;
};

}  // namespace

TEST_CASE("a motor is seen dead, slow, normal, fast or running beside the healthy one") {
    const LoadCircuit made("motor", blower(), 13.5);
    const Settled healthy = made.settled();
    const Settled weak = made.settled(0.3);
    const Settled dead = made.settled(1e6);
    CHECK(load_state(healthy, PartId{0}, &healthy).seen == LoadSeen::normal);
    CHECK(load_state(weak, PartId{0}, &healthy).seen == LoadSeen::slow);
    CHECK(load_state(healthy, PartId{0}, &weak).seen == LoadSeen::fast);
    CHECK(load_state(dead, PartId{0}, &healthy).seen == LoadSeen::dead);
    CHECK(load_state(healthy, PartId{0}, &dead).seen == LoadSeen::runs);
    CHECK(load_state(healthy, PartId{0}, nullptr).seen == LoadSeen::normal);
    const LoadState state = load_state(healthy, PartId{0}, nullptr);
    CHECK(state.volts == Approx(13.28).margin(0.02));
    REQUIRE(state.rpm);
    CHECK(*state.rpm == Approx(3460).margin(30));
}

TEST_CASE("a clutch is pulled or not, a lamp dim, a heater weak") {
    const LoadCircuit clutch("clutch", Resistor{3.6}, 12.6);
    const Settled healthy = clutch.settled();
    CHECK(load_state(clutch.settled(1.0), PartId{0}, &healthy).seen == LoadSeen::normal);
    CHECK(load_state(clutch.settled(4.0), PartId{0}, &healthy).seen == LoadSeen::dead);
    // Ohms in the coil itself: 12.6 V stand across it, but half the current is a pull of 6.3 V, below the 7.5 V it
    // needs.
    Network poor = clutch.made.network();
    poor.at(clutch.made.network().circuit->parts[0].load_branch).added_ohms = 3.6;
    const SettleResult halved = settle_network(session(), poor);
    REQUIRE(halved);
    CHECK(load_state(*halved, PartId{0}, &healthy).volts == Approx(12.6).margin(0.1));
    CHECK(load_state(*halved, PartId{0}, &healthy).seen == LoadSeen::dead);
    const Settled dropped = clutch.settled(1e6);
    CHECK(load_state(healthy, PartId{0}, &dropped).seen == LoadSeen::runs);

    const LoadCircuit lamp("lamp", Resistor{7}, 12.6);
    const Settled bright = lamp.settled();
    CHECK(load_state(bright, PartId{0}, &bright).seen == LoadSeen::normal);
    CHECK(load_state(lamp.settled(4), PartId{0}, &bright).seen == LoadSeen::dim);
    CHECK(load_state(lamp.settled(1e3), PartId{0}, &bright).seen == LoadSeen::dead);

    const LoadCircuit heater("resistor", Resistor{0.6}, 12.6);
    const Settled warm = heater.settled();
    CHECK(load_state(heater.settled(0.4), PartId{0}, &warm).seen == LoadSeen::weak);
}

TEST_CASE("what nobody has switched on is off, runs, glows or creeps by its own volts and speed") {
    const LoadCircuit lamp("lamp", Resistor{7}, 12);
    const Settled dark = lamp.settled(1e9);
    CHECK(load_state(dark, PartId{0}, &dark).seen == LoadSeen::off);
    CHECK(load_state(lamp.settled(1e3), PartId{0}, &dark).seen == LoadSeen::off);
    // Half the volts: seen to glow (from some 15 % of them, common practice, no source), and far from lit.
    const LoadState faint = load_state(lamp.settled(7), PartId{0}, &dark);
    CHECK(faint.seen == LoadSeen::glows);
    CHECK(faint.said() == "glows");
    CHECK(load_state(lamp.settled(), PartId{0}, &dark).seen == LoadSeen::runs);
    CHECK(load_state(lamp.settled(), PartId{0}, &dark).said() == "lit");
    // Nothing to compare with: the nameplate's load should work.
    CHECK(load_state(dark, PartId{0}, nullptr).said() == "out");

    const LoadCircuit made("motor", blower(), 13.5);
    const Settled still = made.settled(1e6);
    std::size_t creeping = 0;
    for (const double ohms : {0.0, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0}) {
        const LoadState state = load_state(made.settled(ohms), PartId{0}, &still);
        REQUIRE(state.rpm);
        INFO(ohms << " ohm, " << *state.rpm << " rpm");
        const double share = *state.rpm / 3500;
        CHECK(state.seen == (share < 0.05 ? LoadSeen::off : share < 0.25 ? LoadSeen::creeps : LoadSeen::runs));
        creeping += state.seen == LoadSeen::creeps ? 1 : 0;
    }
    CHECK(creeping > 0);
}

TEST_CASE("a wire's two currents differ by what a chafe takes from its middle") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    Wire wire;
    wire.name = "542";
    wire.middle = made.joint("middle");
    wire.first_half = made.resistor("542", "plus", "middle", 0.01);
    wire.second_half = made.resistor("542", "middle", "load", 0.01);
    made.resistor("L1", "load", "0", 2);
    made.circuit().wires = {wire};
    Network network = made.network();
    network.connect(wire.middle, made.circuit().reference, Resistor{1});
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    const WireAmps amps = wire_amps(*settled, WireId{0});
    CHECK(amps.from - amps.to == Approx(11.8).margin(0.1));
    CHECK(amps.to == Approx(5.9).margin(0.1));
}

}  // namespace voltfall::test
