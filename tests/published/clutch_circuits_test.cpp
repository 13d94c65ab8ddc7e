// Clutch and blower circuits A10 to A16 at branch level: COMPUTED, own arithmetic from stated inputs, the coil within
// the range that A07 publishes.
#include "tests/support/solved.hpp"

namespace voltfall::test {

namespace {

constexpr double per_mille = 1e-3;

/// A10: a clutch circuit, 12.6 V; the coil within A07's range.
struct Clutch {
    BranchCircuit made;
    BranchId battery = made.source("B1", "1", "0", 12.6);
    BranchId feed = made.resistor("feed", "1", "2", 0.10);
    BranchId relay = made.resistor("relay", "2", "3", 0.01);
    BranchId coil = made.resistor("coil", "3", "4", 3.6);
    BranchId ground = made.resistor("ground", "4", "0", 0.05);
};

}  // namespace

TEST_CASE("A10 to A15, COMPUTED: a clutch circuit healthy and with five faults") {
    Clutch clutch;
    const Network healthy = clutch.made.network();
    const Solved a10(clutch.made, healthy);
    CHECK(a10.amps(clutch.coil) == within(3.3511, per_mille));
    CHECK(a10.volts("2") == within(12.2649, per_mille));
    CHECK(a10.volts("3") == within(12.2314, per_mille));
    CHECK(a10.volts("4") == within(0.1676, per_mille));

    Network network = healthy;
    network.at(clutch.ground).added_ohms = 1.0;
    const Solved a11(clutch.made, network);
    CHECK(a11.amps(clutch.coil) == within(2.6471, per_mille));
    CHECK(a11.volts("3") == within(12.3088, per_mille));
    CHECK(a11.volts("4") == within(2.7794, per_mille));
    CHECK(a11.across(clutch.coil) == within(9.529, per_mille));

    network = healthy;
    network.at(clutch.relay).law = Resistor{0.5};
    const Solved a12(clutch.made, network);
    CHECK(a12.amps(clutch.coil) == within(2.9647, per_mille));
    CHECK(a12.volts("2") == within(12.3035, per_mille));
    CHECK(a12.volts("3") == within(10.8212, per_mille));
    CHECK(a12.volts("4") == within(0.1482, per_mille));

    network = opened(healthy, clutch.ground);
    network.connect(clutch.made.joint("4"), clutch.made.circuit().reference, Resistor{1e7});
    const Solved a13(clutch.made, network);
    for (const char* joint : {"2", "3", "4"}) CHECK(a13.volts(joint) == Approx(12.6).margin(5e-3));

    network = opened(healthy, clutch.coil);
    network.connect(clutch.made.joint("3"), clutch.made.circuit().reference, Resistor{1e7});
    const Solved a14(clutch.made, network);
    CHECK(a14.volts("3") == Approx(12.6).margin(5e-3));
    CHECK(a14.volts("4") == Approx(0).margin(5e-3));
    CHECK(a14.amps(clutch.coil) == Approx(0).margin(1e-6));

    network = healthy;
    network.at(clutch.coil).law = Resistor{1.2};
    const Solved a15(clutch.made, network);
    CHECK(a15.amps(clutch.coil) == within(9.2647, per_mille));
    CHECK(a15.volts("3") == within(11.5809, per_mille));
    CHECK(a15.volts("4") == within(0.4632, per_mille));
}

TEST_CASE("A16, COMPUTED (synthetic): a blower as a plain 0.75 ohm on four speeds") {
    struct Row {
        double pack;
        double amps;
        double volts;
    };
    const std::vector<Row> rows{
        {2.7, 3.8571, 2.8929}, {1.2, 6.7500, 5.0625}, {0.4, 11.2500, 8.4375}, {0.0, 16.8750, 12.6563}};
    for (const Row& row : rows) {
        BranchCircuit made;
        made.source("B1", "1", "0", 13.5);
        made.resistor("wiring", "1", "2", 0.05);
        const BranchId motor = made.resistor("motor", "2", "3", 0.75);
        made.resistor("pack", "3", "0", row.pack);
        const Solved solved(made, made.network());
        CHECK(solved.amps(motor) == within(row.amps, per_mille));
        CHECK(solved.across(motor) == within(row.volts, per_mille));
    }
}

}  // namespace voltfall::test
