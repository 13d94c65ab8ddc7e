// Motors that start from standstill, and what their fuses have of it. Check values: reference parts 1.5, 5.1 and E12,
// derived there with another simulation of the same equations.
#include <chrono>
#include <cmath>

#include "engine/heat/startup.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/parts/motor.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

namespace voltfall::test {

namespace {

NgspiceSession& session() {
    return NgspiceSession::instance();
}

Approx within(double value, double share) {
    return Approx(value).epsilon(share);
}

/// Reference parts 1.5, 12 V: 19.8 A measured, stall 4 x, no friction; 150 uH and the inertia ASSUMED there.
Motor reference_blower(double inertia) {
    Motor motor = motor_from_nameplate({13.5, 19.8, 3500, 79.2, 0, 1.0});
    motor.inertia = inertia;
    motor.inductance = 150e-6;
    return motor;
}

/// A source with ohms, a fuse and a motor.
struct FusedMotor {
    FusedMotor(const Motor& motor, double rating, double source_ohms) {
        made.source("B1", "plus", "0", 13.5, source_ohms);
        Part part;
        part.name = "F1";
        part.fuse = FuseAction{made.resistor("F1", "plus", "1", fuse_ohms(FuseType::regular, rating)), "regular",
                               rating};
        made.circuit().parts.push_back(part);
        winding = made.branch("M1", "1", "0", motor);
    }
    StartUp start(double seconds) {
        const StartUpResult result = run_startup(session(), made.circuit(), State{}, {}, seconds);
        REQUIRE(result);
        return *result;
    }
    BranchCircuit made;
    BranchId winding;
};

/// The motor alone on a stiff supply, as the check values have it.
StartUp ideal_start(const Motor& motor, double seconds) {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5);
    made.branch("M1", "plus", "0", motor);
    const StartUpResult result = run_startup(session(), made.circuit(), State{}, {}, seconds);
    REQUIRE(result);
    return *result;
}

}  // namespace

TEST_CASE("explore") {
    for (double J : {0.2e-3, 0.5e-3, 1e-3, 2e-3}) {
        auto t0 = std::chrono::steady_clock::now();
        const StartUp start = ideal_start(reference_blower(J), 3);
        double wall = std::chrono::duration<double>(std::chrono::steady_clock::now() - t0).count();
        const MotorStart& m = start.motors[0];
        printf("J %g peak %.3f at %.5f  49ms %.3f 199ms %.3f 499 %.3f 999 %.3f to63 %.4f to95 %.4f end %.4f %.2f n=%zu wall %.4f\n",
               J, m.peak_amps, m.peak_seconds, m.amps.at(.049), m.amps.at(.199), m.amps.at(.499), m.amps.at(.999),
               m.to_63.value_or(-1), m.to_95.value_or(-1), m.end_amps, m.end_rpm, m.amps.values.size(), wall);
        for (double ohm : {0.026, 0.03}) {
            FusedMotor f(reference_blower(J), 25, ohm);
            const StartUp s = f.start(3);
            const FusePulse& p = s.fuses[0].pulse;
            printf("   ohm %g: peak %.2f u %.4f i2t %.1f opens %g end %.3f\n", ohm, p.peak_amps, p.peak_heat, p.pulse_i2t, p.opens_after.value_or(-1), s.motors[0].end_amps);
        }
    }
    Motor motor = reference_blower(1e-3);
    motor.rotor = Rotor::seized;
    for (double rating : {25., 30., 40.}) {
        for (double ohm : {0.0, 0.03}) {
        FusedMotor f(motor, rating, ohm);
        const StartUp s = f.start(3);
        auto course = run_course(session(), f.made.circuit(), State{}, {});
        printf("seized %g %g: opens %.5f course %.5f started %d\n", rating, ohm, s.fuses[0].pulse.opens_after.value_or(-1), course->aftermath[0].seconds, s.motors[0].started);
        }
    }
    const Circuit& cab = testing::cab_blower();
    for (const State& state : default_states(cab)) {
        for (double secs : {0.05, 3., 60.}) {
        auto t0 = std::chrono::steady_clock::now();
        auto s = run_startup(session(), cab, state, {}, secs);
        double wall = std::chrono::duration<double>(std::chrono::steady_clock::now() - t0).count();
        auto settled = settle(session(), cab, state, {});
        if (!s) { printf("%s %g FAIL %s\n", state.label.c_str(), secs, s.error().message.c_str()); continue; }
        for (auto& m : s->motors) printf("%s %g %s peak %.2f at %.5f to95 %.4f end %.4f %.2f (%.4f) started %d", state.label.c_str(), secs, m.name.c_str(), m.peak_amps, m.peak_seconds, m.to_95.value_or(-1), m.end_amps, m.end_rpm, settled->point.amps[m.winding.index], m.started);
        for (auto& f : s->fuses) printf(" %s %.2f u %.4f i2t %.1f", f.name.c_str(), f.pulse.peak_amps, f.pulse.peak_heat, f.pulse.pulse_i2t);
        printf(" wall %.4f\n", wall);
        }
    }
}

}  // namespace voltfall::test
