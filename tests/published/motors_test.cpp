// Published motor figures and what follows from them (reference parts, section 7). P = published figures, D = derived
// from published inputs; sources as listed there.
#include <cmath>
#include <numbers>

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/tables/fuses.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::test {

namespace {

struct Running {
    double amps;
    double rpm;
    double back_emf;
    double shaft_watts;
};

/// A motor alone on a stiff supply with ohms in series.
Running run(const Motor& motor, double volts, double series_ohms = 0) {
    BranchCircuit made;
    made.source("B1", "1", "0", volts);
    made.resistor("series", "1", "2", series_ohms);
    const BranchId branch = made.branch("M1", "2", "0", motor);
    const SettleResult settled = settle_network(NgspiceSession::instance(), made.network());
    REQUIRE(settled);
    const double amps = settled->point.amps[branch.index];
    const double speed = settled->point.speed[branch.index];
    return {amps, speed * 60 / (2 * std::numbers::pi), motor.constant * speed, motor.constant * speed * amps};
}

Approx within(double value, double share) {
    return Approx(value).epsilon(share);
}

/// E6's motor, reference parts 1.5: nameplate current from a measured 19.8 A (S1), stall 4 x, no friction.
Motor reference_blower() {
    return motor_from_nameplate({13.5, 19.8, 3500, 79.2, 0, 1.0});
}

}  // namespace

TEST_CASE("E1 (P, S21: Modelica DCPM_withLosses): 100 V, 0.05 ohm, 1425 rpm at 63.66 N.m") {
    const double rated = radians_per_second(1425);
    const double constant = 95 / rated;
    CHECK(constant == within(0.63662, 5e-4));
    const Motor motor{0.05, 0, 0.2, constant, 0, 63.66 / (rated * rated), Rotor::free};
    const Running full = run(motor, 100);
    CHECK(full.amps == within(100.0, 5e-4));
    CHECK(full.rpm == within(1425.0, 5e-4));
    CHECK(full.amps * full.amps * 0.05 == within(500, 1e-3));
    CHECK(full.shaft_watts == within(9500, 5e-4));
    // E1b (D): the same motor on 50 V.
    const Running half = run(motor, 50);
    CHECK(half.rpm == within(730.3, 1e-3));
    CHECK(half.amps == within(26.26, 1e-3));
}

TEST_CASE("E2 (P, S21): warm winding, brushes and losses") {
    const double winding = 0.03864 * (1 + 0.00392 * (95 - 20));
    CHECK(winding == within(0.05000, 5e-4));
    const double rated = radians_per_second(1417.5);
    const double constant = 94.5 / rated;
    // Shaft, core, stray and friction losses together are the torque that the armature gives.
    const Motor motor{winding, 0.5, 0.2, constant, 0, constant * 100 / (rated * rated), Rotor::free};
    const Running full = run(motor, 100);
    CHECK(full.amps == within(100, 5e-4));
    CHECK(full.back_emf == within(94.5, 5e-4));
    CHECK(0.5 * full.amps == within(50, 5e-4));
    const double output = full.shaft_watts - 200 - 50 - 100;
    CHECK(output == within(9100, 5e-4));
    CHECK(output / radians_per_second(full.rpm) == within(61.30, 5e-4));
}

TEST_CASE("E3 (P in, D out, S103): constant load torque of 0.5 N.m on 60 V") {
    const double constant = 120 / radians_per_second(6000);
    CHECK(constant == within(0.19099, 1e-3));
    const Motor motor{2.5, 0, 0.2, constant, 0.5, 0, Rotor::free};
    const Running loaded = run(motor, 60);
    CHECK(loaded.amps == within(2.618, 1e-3));
    CHECK(loaded.back_emf == within(53.455, 1e-3));
    CHECK(loaded.rpm == within(2672.8, 1e-3));
}

TEST_CASE("E4 (P in, D out, S104): a small motor from no-load speed and stall torque") {
    const double constant = 12 / radians_per_second(3800);
    const double winding = 12 * constant / 0.030;
    CHECK(constant == within(0.030156, 1e-3));
    CHECK(winding == within(12.062, 1e-3));
    const Running loaded = run(Motor{winding, 0, 0.2, constant, 10.263e-3, 0, Rotor::free}, 12);
    CHECK(loaded.rpm == within(2500, 1e-3));
    CHECK(loaded.amps == within(0.34034, 1e-3));
    CHECK(loaded.back_emf == within(7.8947, 1e-3));
    CHECK(12 * loaded.amps == within(4.084, 1e-3));
    CHECK(loaded.shaft_watts == within(2.687, 1e-3));
    CHECK(12 * loaded.amps - loaded.shaft_watts == within(1.397, 2e-3));
    // Its stall torque, from the other end.
    Motor held{winding, 0, 0.2, constant, 0, 0, Rotor::seized};
    CHECK(run(held, 12).amps * constant == within(0.030, 1e-3));
}

TEST_CASE("E5 (P, S105: fan laws): from 1200 to 1500 rpm power grows with the cube") {
    const double constant = 0.05;
    const double low = radians_per_second(1200);
    const double high = radians_per_second(1500);
    const double horsepower = 745.7;
    const Motor motor{0.01, 0, 0.2, constant, 0, 5 * horsepower / (low * low * low), Rotor::free};
    const auto supply = [&](double speed) {
        return constant * speed + motor.fan_torque * speed * speed / constant * motor.armature_ohms;
    };
    const Running slow = run(motor, supply(low));
    const Running fast = run(motor, supply(high));
    CHECK(slow.rpm == within(1200, 1e-3));
    CHECK(fast.rpm == within(1500, 1e-3));
    CHECK(slow.shaft_watts / horsepower == within(5, 1e-3));
    CHECK(fast.shaft_watts / horsepower == within(9.766, 1e-3));
    // Flow goes with the speed, pressure with its square.
    CHECK(10000 * fast.rpm / slow.rpm == within(12500, 1e-3));
    CHECK(2.0 * std::pow(fast.rpm / slow.rpm, 2) == within(3.125, 1e-3));
}

TEST_CASE("E6 (D, ohms of S22): the reference blower on four speeds") {
    const Motor motor = reference_blower();
    CHECK(motor.armature_ohms == within(0.15783, 1e-3));
    CHECK(motor.constant == within(0.025578, 1e-3));
    CHECK(motor.fan_torque == within(3.7700e-6, 1e-3));
    struct Row {
        double ohms;
        double amps;
        double rpm;
    };
    for (const Row& row :
         {Row{0, 19.800, 3500}, Row{0.31, 11.468, 2664}, Row{0.87, 6.812, 2053}, Row{1.83, 4.133, 1599}}) {
        const Running running = run(motor, 13.5, row.ohms);
        CHECK(running.amps == within(row.amps, 2e-3));
        CHECK(running.rpm == within(row.rpm, 2e-3));
    }
}

TEST_CASE("E7 (D, S22 and S18): the rotor held on a low speed burns the pack while the fuse holds") {
    Motor held = reference_blower();
    held.rotor = Rotor::seized;
    const Running stalled = run(held, 13.5, 0.87);
    CHECK(stalled.amps == within(12.16, 5e-3));
    CHECK(stalled.amps * stalled.amps * 0.87 == within(128.7, 5e-3));
    CHECK(std::abs(stalled.rpm) < 1e-3);
    CHECK_FALSE(fuse_opening_seconds(FuseType::regular, 25, stalled.amps).has_value());
}

TEST_CASE("E7b (D): 0.10 ohm in the feed on high") {
    const Running running = run(reference_blower(), 13.5, 0.10);
    CHECK(running.amps == within(15.90, 5e-3));
    CHECK(running.rpm == within(3136, 5e-3));
    CHECK(running.amps * running.amps * 0.10 == within(25.3, 5e-3));
    CHECK(running.amps * 0.10 == within(1.59, 5e-3));
}

TEST_CASE("E11 (D, S46 and S16): a 24 V relay reads 287.2 ohm with 2.8 kohm across its coil") {
    const double coil = 1 / (1 / 287.2 - 1 / 2800.0);
    CHECK(coil == within(320.0, 1e-3));
    BranchCircuit made;
    const BranchId source = made.source("B1", "1", "0", 24);
    made.resistor("coil", "1", "0", 320);
    made.resistor("suppression", "1", "0", 2800);
    const SolveResult point = NgspiceSession::instance().solve(made.network());
    REQUIRE(point);
    CHECK(-point->amps[source.index] == within(83.6e-3, 1e-3));
}

TEST_CASE("E16 (D, S49): a relay contact's drop and watts") {
    BranchCircuit made;
    made.source("B1", "1", "0", 12);
    made.resistor("contact", "1", "2", 0.0015);
    const BranchId load = made.resistor("load", "2", "0", 12.0 / 20 - 0.0015);
    const SolveResult point = NgspiceSession::instance().solve(made.network());
    REQUIRE(point);
    const double amps = point->amps[load.index];
    CHECK(amps == within(20, 1e-3));
    CHECK(amps * 0.0015 == within(30e-3, 1e-3));       // 15 mV at 10 A is 1.5 mohm
    CHECK(amps * amps * 0.0015 == within(0.6, 1e-3));  // W
    CHECK(amps * 0.020 == within(0.4, 1e-3));          // the worst that S49 allows
    CHECK(amps * amps * 0.020 == within(8, 1e-3));
}

TEST_CASE("E18 (D): a linear stage loses most in the middle") {
    // The reference blower behind a stage that drops the rest of 13.5 V: at most 42.8 W, at 8.85 V and 9.2 A.
    double most = 0;
    double at_volts = 0;
    double at_amps = 0;
    for (double volts = 4; volts <= 13.5; volts += 0.05) {
        const double amps = run(reference_blower(), volts).amps;
        const double watts = (13.5 - volts) * amps;
        if (watts <= most) continue;
        most = watts;
        at_volts = volts;
        at_amps = amps;
    }
    CHECK(most == within(42.8, 1e-2));
    CHECK(at_volts == within(8.85, 1e-2));
    CHECK(at_amps == within(9.2, 1e-2));
}

}  // namespace voltfall::test
