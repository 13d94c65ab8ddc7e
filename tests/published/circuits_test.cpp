// Published circuits at branch level, through the library. LIEC = Lessons in Electric Circuits (repository
// FauxFaux/lessons-in-electric-circuits), read and re-solved; COMPUTED rows are own arithmetic from stated inputs, kept
// as such. Row numbers are those of the project's list of worked numbers.
#include <cmath>

#include "tests/support/solved.hpp"

namespace voltfall::test {

namespace {

constexpr double half_per_mille = 5e-4;
constexpr double per_mille = 1e-3;

/// C01: 9 V, series 100, 300, 50 ohm.
struct Series {
    BranchCircuit made;
    BranchId source = made.source("B1", "1", "0", 9);
    BranchId r1 = made.resistor("R1", "1", "2", 100);
    BranchId r2 = made.resistor("R2", "2", "3", 300);
    BranchId r3 = made.resistor("R3", "3", "0", 50);
};

/// C04: 9 V, parallel 90, 45, 180 ohm.
struct Parallel {
    explicit Parallel(double inner_ohms = 0) : source(made.source("B1", "1", "0", 9, inner_ohms)) {}
    BranchCircuit made;
    BranchId source;
    BranchId r1 = made.resistor("R1", "1", "0", 90);
    BranchId r2 = made.resistor("R2", "1", "0", 45);
    BranchId r3 = made.resistor("R3", "1", "0", 180);
};

/// C08: 24 V, (100 || 250) in series with (350 || 200) ohm.
struct SeriesParallel {
    BranchCircuit made;
    BranchId source = made.source("B1", "1", "0", 24);
    BranchId r1 = made.resistor("R1", "1", "mid", 100);
    BranchId r2 = made.resistor("R2", "1", "mid", 250);
    BranchId r3 = made.resistor("R3", "mid", "0", 350);
    BranchId r4 = made.resistor("R4", "mid", "0", 200);
};

/// C11: the unbalanced bridge.
struct Bridge {
    BranchCircuit made;
    BranchId source = made.source("V1", "1", "0", 24);
    BranchId r12 = made.resistor("R12", "1", "2", 150);
    BranchId r13 = made.resistor("R13", "1", "3", 50);
    BranchId r23 = made.resistor("R23", "2", "3", 100);
    BranchId r20 = made.resistor("R20", "2", "0", 300);
    BranchId r30 = made.resistor("R30", "3", "0", 250);
};

}  // namespace

TEST_CASE("C01 to C03, LIEC s_and_p.sml: a series circuit healthy, shorted and open") {
    Series series;
    const Network healthy = series.made.network();
    const Solved c01(series.made, healthy);
    CHECK(c01.amps(series.r1) == within(0.020, per_mille));
    CHECK(c01.across(series.r1) == within(2, per_mille));
    CHECK(c01.across(series.r2) == within(6, per_mille));
    CHECK(c01.across(series.r3) == within(1, per_mille));
    const Solved c02(series.made, shorted(healthy, series.r2));
    CHECK(c02.amps(series.r1) == within(0.060, per_mille));
    CHECK(c02.across(series.r1) == within(6, per_mille));
    CHECK(c02.across(series.r2) == Approx(0).margin(1e-9));
    CHECK(c02.across(series.r3) == within(3, per_mille));
    const Solved c03(series.made, opened(healthy, series.r2));
    CHECK(c03.amps(series.r1) == Approx(0).margin(1e-6));
    CHECK(c03.across(series.r1) == Approx(0).margin(1e-3));
    CHECK(c03.across(series.r2) == Approx(9).margin(1e-3));
    CHECK(c03.across(series.r3) == Approx(0).margin(1e-3));
}

TEST_CASE("C04 and C05, LIEC s_and_p.sml: a parallel circuit healthy and with one branch open") {
    Parallel parallel;
    const Solved c04(parallel.made, parallel.made.network());
    CHECK(c04.amps(parallel.r1) == within(0.100, per_mille));
    CHECK(c04.amps(parallel.r2) == within(0.200, per_mille));
    CHECK(c04.amps(parallel.r3) == within(0.050, per_mille));
    CHECK(-c04.amps(parallel.source) == within(0.350, per_mille));
    const Solved c05(parallel.made, opened(parallel.made.network(), parallel.r2));
    CHECK(c05.amps(parallel.r1) == within(0.100, per_mille));
    CHECK(c05.amps(parallel.r2) == Approx(0).margin(1e-9));
    CHECK(-c05.amps(parallel.source) == within(0.150, per_mille));
    CHECK(9 / -c05.amps(parallel.source) == within(60, per_mille));
}

TEST_CASE("C06, LIEC s_and_p.sml: a short across an ideal source is flagged, not a number") {
    Parallel parallel;
    const SolveResult point = NgspiceSession::instance().solve(shorted(parallel.made.network(), parallel.r2));
    REQUIRE_FALSE(point);
    CHECK(point.error().kind == SolveFailure::Kind::no_solution);
}

TEST_CASE("C07 (LIEC, signs) and C07b (COMPUTED): a shorted branch behind a source with ohms") {
    Parallel healthy_with_ohms(0.1);
    const Solved healthy(healthy_with_ohms.made, healthy_with_ohms.made.network());
    Network network = healthy_with_ohms.made.network();
    network.at(healthy_with_ohms.r2).law = Resistor{1e-3};
    const Solved c07(healthy_with_ohms.made, network);
    CHECK(c07.volts("1") < healthy.volts("1"));
    CHECK(c07.amps(healthy_with_ohms.r1) < healthy.amps(healthy_with_ohms.r1));
    CHECK(c07.amps(healthy_with_ohms.r3) < healthy.amps(healthy_with_ohms.r3));
    CHECK(c07.amps(healthy_with_ohms.r2) > healthy.amps(healthy_with_ohms.r2));
    CHECK(c07.volts("1") == within(0.08911, per_mille));
    CHECK(-c07.amps(healthy_with_ohms.source) == within(89.109, per_mille));
}

TEST_CASE("C08 and C09, LIEC s_p.sml: series-parallel healthy, and the signs of a short") {
    SeriesParallel circuit;
    const Solved c08(circuit.made, circuit.made.network());
    CHECK(c08.volts("1", "mid") == within(8.6275, half_per_mille));
    CHECK(c08.volts("mid") == within(15.373, half_per_mille));
    CHECK(c08.amps(circuit.r1) == within(0.086275, half_per_mille));
    CHECK(c08.amps(circuit.r2) == within(0.034510, half_per_mille));
    CHECK(c08.amps(circuit.r3) == within(0.043922, half_per_mille));
    CHECK(c08.amps(circuit.r4) == within(0.076863, half_per_mille));
    CHECK(-c08.amps(circuit.source) == within(0.12078, half_per_mille));
    CHECK(24 / -c08.amps(circuit.source) == within(198.70, half_per_mille));
    const Solved c09(circuit.made, shorted(circuit.made.network(), circuit.r2));
    CHECK(-c09.amps(circuit.source) > -c08.amps(circuit.source));
    CHECK(c09.across(circuit.r1) < c08.across(circuit.r1));
    CHECK(c09.amps(circuit.r1) < c08.amps(circuit.r1));
    CHECK(c09.across(circuit.r3) > c08.across(circuit.r3));
    CHECK(c09.amps(circuit.r3) > c08.amps(circuit.r3));
    CHECK(c09.amps(circuit.r4) > c08.amps(circuit.r4));
}

TEST_CASE("C10, COMPUTED from C08: every single fault of the series-parallel circuit") {
    SeriesParallel circuit;
    const Network healthy = circuit.made.network();
    struct Row {
        BranchId part;
        bool open;
        double mid;
        double milliamps;
    };
    const std::vector<Row> rows{{circuit.r1, true, 8.0964, 63.614}, {circuit.r2, true, 13.440, 105.60},
                                {circuit.r3, true, 17.684, 88.421}, {circuit.r4, true, 19.932, 56.949},
                                {circuit.r1, false, 24.0, 188.57},  {circuit.r2, false, 24.0, 188.57},
                                {circuit.r3, false, 0.0, 336.0},    {circuit.r4, false, 0.0, 336.0}};
    for (const Row& row : rows) {
        INFO("R" << row.part.index << (row.open ? " open" : " short"));
        const Solved solved(circuit.made, row.open ? opened(healthy, row.part) : shorted(healthy, row.part));
        CHECK(solved.volts("mid") == Approx(row.mid).epsilon(half_per_mille).margin(1e-9));
        CHECK(-solved.amps(circuit.source) * 1000 == within(row.milliamps, half_per_mille));
    }
}

TEST_CASE("C11, LIEC dcnet.sml, and C12, COMPUTED from it: the unbalanced bridge and its single faults") {
    Bridge bridge;
    const Network healthy = bridge.made.network();
    const Solved c11(bridge.made, healthy);
    CHECK(c11.volts("2") == within(17.655, half_per_mille));
    CHECK(c11.volts("3") == within(19.310, half_per_mille));
    CHECK(c11.volts("1", "2") == within(6.345, half_per_mille));
    CHECK(c11.volts("1", "3") == within(4.690, half_per_mille));
    CHECK(c11.volts("3", "2") == within(1.655, half_per_mille));
    CHECK(-c11.amps(bridge.source) == within(0.136092, half_per_mille));
    struct Row {
        Network network;
        double v2;
        double v3;
        double milliamps;
    };
    const std::vector<Row> rows{{opened(healthy, bridge.r23), 16.0, 20.0, 133.333},
                                {opened(healthy, bridge.r12), 13.5849, 18.1132, 117.736},
                                {opened(healthy, bridge.r13), 12.4444, 8.8889, 77.037},
                                {opened(healthy, bridge.r20), 21.9429, 20.5714, 82.286},
                                {shorted(healthy, bridge.r30), 8.0, 0.0, 586.667}};
    for (const Row& row : rows) {
        const Solved solved(bridge.made, row.network);
        CHECK(solved.volts("2") == within(row.v2, half_per_mille));
        CHECK(solved.volts("3") == Approx(row.v3).epsilon(half_per_mille).margin(1e-9));
        CHECK(-solved.amps(bridge.source) * 1000 == within(row.milliamps, half_per_mille));
    }
}

TEST_CASE("C13, LIEC dcnet.sml: two sources, node volts to a microvolt") {
    BranchCircuit made;
    made.source("V1", "p", "0", 10);
    made.source("V2", "0", "m", 4);
    made.resistor("R1", "p", "n1", 2);
    made.resistor("R2", "n1", "0", 4);
    made.resistor("R3", "n1", "n2", 2.5);
    made.resistor("R4", "n2", "0", 5);
    made.resistor("R5", "m", "n2", 1);
    const Solved solved(made, made.network());
    CHECK(solved.volts("n1") == Approx(3.809524).margin(1e-6));
    CHECK(solved.volts("n2") == Approx(-1.547619).margin(1e-6));
}

TEST_CASE("C14, LIEC dcmeter.sml: a 10 Mohm meter on 250 Mohm, without our shunts") {
    BranchCircuit made;
    made.source("B1", "1", "0", 24);
    made.resistor("R1", "1", "2", 250e6);
    made.resistor("R2", "2", "0", 250e6);
    CHECK(Solved(made, made.network(), Shunts::none).volts("2") == within(12, 1e-4));
    made.resistor("meter", "2", "0", 10e6);
    const Solved read(made, made.network(), Shunts::none);
    CHECK(read.volts("2") == within(0.8889, 1e-4));
    CHECK(read.volts("1", "2") == within(23.1111, 1e-4));
}

TEST_CASE("C16, LIEC dcmeter.sml: an ammeter's half ohm lowers what it measures") {
    BranchCircuit made;
    const BranchId source = made.source("B1", "1", "0", 2);
    const BranchId three = made.resistor("R1", "1", "0", 3);
    const BranchId half_three = made.resistor("R2", "1", "0", 1.5);
    const Network plain = made.network();
    const Solved without(made, plain);
    CHECK(without.amps(three) == within(0.6667, half_per_mille));
    CHECK(without.amps(half_three) == within(1.333, half_per_mille));
    CHECK(-without.amps(source) == within(2.0, half_per_mille));
    Network metered = plain;
    metered.at(three).added_ohms = 0.5;
    CHECK(Solved(made, metered).amps(three) == within(0.57143, half_per_mille));
    metered = plain;
    metered.at(half_three).added_ohms = 0.5;
    CHECK(Solved(made, metered).amps(half_three) == within(1.000, half_per_mille));
}

TEST_CASE("C17 to C20, LIEC batt.sml: four batteries of one nominal voltage under a 100 ohm load") {
    struct Row {
        double emf;
        double ohms;
        double loaded;
    };
    for (const Row& row : {Row{13.2, 0.1, 13.187}, Row{13.0, 5, 12.381}, Row{11.5, 20, 9.583}, Row{7.5, 50, 5.0}}) {
        BranchCircuit made;
        made.source("B1", "1", "0", row.emf, row.ohms);
        CHECK(Solved(made, made.network()).volts("1") == Approx(row.emf).margin(1e-3));
        made.resistor("load", "1", "0", 100);
        CHECK(Solved(made, made.network()).volts("1") == Approx(row.loaded).margin(1e-3));
    }
}

TEST_CASE("C21, LIEC ohm.sml: no volts between common points, all of them across the two wires") {
    BranchCircuit made;
    made.source("B1", "1", "6", 10);
    made.resistor("w12", "1", "2", 0);
    const BranchId w23 = made.resistor("w23", "2", "3", 0);
    const BranchId load = made.resistor("load", "3", "4", 5);
    made.resistor("w45", "4", "5", 0);
    made.resistor("w56", "5", "6", 0);
    made.resistor("tie", "6", "0", 0);
    const Solved solved(made, made.network());
    CHECK(solved.amps(load) == within(2, 1e-6));
    const std::vector<std::string> top{"1", "2", "3"};
    const std::vector<std::string> bottom{"4", "5", "6"};
    for (const std::string& a : top) {
        for (const std::string& b : bottom) CHECK(solved.volts(a, b) == within(10, 1e-6));
        for (const std::string& b : top) CHECK(solved.volts(a, b) == Approx(0).margin(1e-9));
    }
    // Volts between points meant to be common prove an open between them.
    const Solved broken(made, opened(made.network(), w23));
    CHECK(broken.volts("2", "3") == within(10, 1e-6));
    CHECK(broken.volts("1", "2") == Approx(0).margin(1e-9));
}

TEST_CASE("C22, LIEC divider.sml: a divider's share does not change with the source") {
    // 45 V at 2 mA with R2 = 2 R1 and 10 V over R1: 5 k, 10 k, and 7.5 k for the remaining 15 V (deduced).
    for (const double volts : {45.0, 180.0}) {
        BranchCircuit made;
        made.source("B1", "1", "0", volts);
        const BranchId r1 = made.resistor("R1", "1", "2", 5e3);
        made.resistor("R2", "2", "3", 10e3);
        made.resistor("R3", "3", "0", 7.5e3);
        const Solved solved(made, made.network(), Shunts::none);
        CHECK(solved.across(r1) == within(volts == 45.0 ? 10 : 40, 1e-6));
        CHECK(solved.across(r1) / volts == within(10.0 / 45, 1e-6));
    }
}

TEST_CASE("C23, LIEC divider.sml: a current divider of 1, 3 and 2 kohm") {
    for (const double volts : {24.0, 6.0}) {
        BranchCircuit made;
        const BranchId source = made.source("B1", "1", "0", volts);
        const BranchId r1 = made.resistor("R1", "1", "0", 1e3);
        const BranchId r2 = made.resistor("R2", "1", "0", 3e3);
        const BranchId r3 = made.resistor("R3", "1", "0", 2e3);
        const Solved solved(made, made.network());
        const double share = volts / 24;
        CHECK(solved.amps(r1) == within(0.024 * share, half_per_mille));
        CHECK(solved.amps(r2) == within(0.008 * share, half_per_mille));
        CHECK(solved.amps(r3) == within(0.012 * share, half_per_mille));
        CHECK(-solved.amps(source) == within(0.044 * share, half_per_mille));
        CHECK(volts / -solved.amps(source) == within(545.45, half_per_mille));
    }
}

}  // namespace voltfall::test
