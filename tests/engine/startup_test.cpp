// Motors that start from standstill, and what their fuses have of it. Check values: reference parts 1.5, 5.1 and E12,
// derived there with another simulation of the same equations; and a Runge-Kutta integration of them here.
#include <unistd.h>

#include <array>
#include <cmath>
#include <fstream>

#include "engine/heat/startup.hpp"
#include "engine/ngspice/ngspice_session.hpp"
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

/// A source with ohms, a fuse of type regular and a motor.
struct FusedMotor {
    FusedMotor(const Motor& motor, double rating, double source_ohms, double element_ohms) {
        made.source("B1", "plus", "0", 13.5, source_ohms);
        Part part;
        part.name = "F1";
        part.fuse = FuseAction{made.resistor("F1", "plus", "1", element_ohms), "regular", rating};
        made.circuit().parts.push_back(part);
        winding = made.branch("M1", "1", "0", motor);
    }
    StartUp start(double seconds) {
        const StartUpResult result = run_startup(session(), made.circuit(), State{}, {}, seconds);
        REQUIRE(result);
        return *result;
    }
    /// The whole current of the fuse, not the thinned one.
    Waveform fuse_amps(double seconds) {
        const SettleResult settled = settle(session(), made.circuit(), State{}, {});
        REQUIRE(settled);
        const BranchId element = made.circuit().parts.back().fuse->element;
        const TransientResult run = session().transient(settled->network, {seconds, 0.01, {element}});
        REQUIRE(run);
        return {run->seconds, run->amps.at(0)};
    }
    BranchCircuit made;
    BranchId winding;
};

/// The motor alone on a stiff supply, as the check values have it.
MotorStart ideal_start(const Motor& motor, double seconds, double volts = 13.5) {
    BranchCircuit made;
    made.source("B1", "plus", "0", volts);
    made.branch("M1", "plus", "0", motor);
    const StartUpResult result = run_startup(session(), made.circuit(), State{}, {}, seconds);
    REQUIRE(result);
    return result->motors.at(0);
}

/// The equations of reference parts 1.4 and 5.1 in classical Runge-Kutta steps of 50 us: current, speed, fuse heat.
class Integrated {
public:
    Integrated(const Motor& motor, double volts, double series_ohms, double fuse_rating, double seconds)
        : motor_(motor), volts_(volts), ohms_(series_ohms), rating_(fuse_rating) {
        constexpr double step = 5e-5;
        Values now{};
        for (long i = 1; i <= std::lround(seconds / step); ++i) {
            const Values k1 = slope(now);
            const Values k2 = slope(moved(now, k1, step / 2));
            const Values k3 = slope(moved(now, k2, step / 2));
            const Values k4 = slope(moved(now, k3, step));
            for (std::size_t j = 0; j < now.size(); ++j) now[j] += step / 6 * (k1[j] + 2 * k2[j] + 2 * k3[j] + k4[j]);
            peak_amps = std::max(peak_amps, now[0]);
            peak_heat = std::max(peak_heat, now[2]);
        }
    }
    double peak_amps{};
    double peak_heat{};

private:
    using Values = std::array<double, 3>;
    Values slope(const Values& v) const {
        const double least = 1.2 * rating_;  // E12: Imin 1.2 In, tau 1.22 s
        const double brush = motor_.brush_volts * std::tanh(v[0] / motor_.brush_soft_amps);
        return {(volts_ - v[0] * (motor_.armature_ohms + ohms_) - brush - motor_.constant * v[1]) / motor_.inductance,
                (motor_.constant * v[0] - motor_.fan_torque * v[1] * v[1]) / motor_.inertia,
                (v[0] * v[0] / (least * least) - v[2]) / 1.22};
    }
    static Values moved(Values from, const Values& by, double step) {
        for (std::size_t j = 0; j < from.size(); ++j) from[j] += step * by[j];
        return from;
    }
    Motor motor_;
    double volts_;
    double ohms_;
    double rating_;
};

Waveform constant(double amps, double seconds) {
    Waveform wave;
    for (int i = 0; i <= 100; ++i) {
        wave.seconds.push_back(seconds * i / 100);
        wave.values.push_back(amps);
    }
    return wave;
}

double resident_mebibytes() {
    std::ifstream statm("/proc/self/statm");
    long total = 0;
    long resident = 0;
    statm >> total >> resident;
    return static_cast<double>(resident) * static_cast<double>(sysconf(_SC_PAGESIZE)) / (1024.0 * 1024.0);
}

}  // namespace

TEST_CASE("parts 1.5: inrush of the 12 V reference blower, J = 1e-3") {
    // "peak 77.8 A at ~5 ms after switch-on, 65.2 A at 50 ms, 37.6 A at 200 ms, 22.1 A at 500 ms, 19.9 A at 1 s; 63 %
    // speed in 0.17 s. Times include a 1 ms delay."
    const MotorStart start = ideal_start(reference_blower(1e-3), 3);
    CHECK(start.started);
    CHECK(start.peak_amps == within(77.8, 1e-3));
    CHECK(start.peak_seconds == Approx(4.5e-3).margin(1e-3));
    CHECK(start.amps.at(0.049) == within(65.2, 2e-3));
    CHECK(start.amps.at(0.199) == within(37.6, 2e-3));
    CHECK(start.amps.at(0.499) == within(22.1, 3e-3));
    CHECK(start.amps.at(0.999) == within(19.9, 3e-3));
    REQUIRE(start.to_63);
    CHECK(*start.to_63 == Approx(0.166).margin(0.005));
    CHECK(start.end_amps == within(19.8, 1e-4));
    CHECK(start.end_rpm == within(3500, 1e-4));
    CHECK(start.amps.values.size() <= drawn_points);
}

TEST_CASE("parts 1.5: all times scale with the inertia") {
    const MotorStart light = ideal_start(reference_blower(0.5e-3), 3);
    const MotorStart heavy = ideal_start(reference_blower(2e-3), 3);
    REQUIRE((light.to_63 && light.to_95 && heavy.to_63 && heavy.to_95));
    CHECK(*heavy.to_63 == within(4 * *light.to_63, 0.01));
    CHECK(*heavy.to_95 == within(4 * *light.to_95, 0.01));
}

/// The fuse of reference parts 5.1: one pole, Imin 1.2 x rating, 1.22 s.
FuseModel one_pole(double rating) {
    return {1.2 * rating, 0, 1.22, 1};
}

TEST_CASE("parts 5.1: peak heat of a 25 A fuse by inertia") {
    // The published line says a source of 30 mohm, but its figures are those of 13.5 V straight at the motor: the
    // integration gives them there to the last digit, and 0.35 / 0.37 / 0.48 / 0.78 behind 30 mohm.
    const std::vector<std::pair<double, double>> published{{0.2e-3, 0.41}, {0.5e-3, 0.43}, {1e-3, 0.59}, {2e-3, 0.97}};
    for (const auto& [inertia, heat] : published) {
        INFO("J = " << inertia);
        const Motor motor = reference_blower(inertia);
        constexpr double hardly_any_ohms = 1e-6;
        FusedMotor straight(motor, 25, 0, hardly_any_ohms);
        const StartUp stiff = straight.start(3);
        const FusePulse pole = fuse_pulse(one_pole(25), straight.fuse_amps(3));
        CHECK(pole.peak_heat == Approx(heat).margin(0.005));
        CHECK(pole.margin() == Approx(1 - heat).margin(0.005));
        CHECK_FALSE(pole.opens_after.has_value());
        // The two stages of the typical fuse: its fast one passes the pulse on sooner, its holder bears the rest.
        CHECK_FALSE(stiff.fuses.at(0).pulse.opens_after.has_value());
        CHECK(stiff.fuses.at(0).pulse.peak_heat > 0.5 * heat);

        FusedMotor behind(motor, 25, 0.026, 0.004);
        const StartUp soft = behind.start(3);
        const Integrated expected(motor, 13.5, 0.030, 25, 3);
        CHECK(soft.motors.at(0).peak_amps == within(expected.peak_amps, 2e-3));
        CHECK(fuse_pulse(one_pole(25), behind.fuse_amps(3)).peak_heat == within(expected.peak_heat, 2e-3));
        CHECK(soft.fuses.at(0).pulse.peak_amps == within(soft.motors.at(0).peak_amps, 1e-6));
    }
}

TEST_CASE("E12 and parts 5.1: opening at constant current, one pole of 1.22 s and 1.2 x rating") {
    const std::vector<std::pair<double, double>> published{{1.35, 1.905}, {2, 0.5445}, {3.5, 0.1526}, {6, 0.0498}};
    for (const auto& [times, seconds] : published) {
        const FusePulse pulse = fuse_pulse(one_pole(20), constant(20 * times, 3));
        REQUIRE(pulse.opens_after);
        CHECK(*pulse.opens_after == within(seconds, 1e-3));
        const FusePulse typical = fuse_pulse(FuseType::regular, 20, constant(20 * times, 300));
        REQUIRE(typical.opens_after);
        CHECK(*typical.opens_after == within(*fuse_opening_seconds(FuseType::regular, 20, 20 * times), 1e-6));
        CHECK(pulse.peak_heat == 1);
        CHECK(pulse.margin() == 0);
    }
    // Stalled at HI, 79 A.
    CHECK(*fuse_pulse(one_pole(25), constant(79, 1)).opens_after == Approx(0.19).margin(0.005));
    CHECK(*fuse_pulse(one_pole(30), constant(79, 1)).opens_after == Approx(0.28).margin(0.005));
    CHECK(*fuse_pulse(one_pole(40), constant(79, 1)).opens_after == Approx(0.56).margin(0.005));
    CHECK_FALSE(fuse_pulse(FuseType::regular, 20, constant(22, 60)).opens_after.has_value());
}

TEST_CASE("the energy above the running current is counted from the waveform") {
    // From 10 A to 2 A in squares that go straight: 1 s at 100 to 4 A2, then 4 A2.
    const Waveform wave{{0, 1, 3}, {10, 2, 2}};
    const FusePulse pulse = fuse_pulse(FuseType::regular, 30, wave);
    CHECK(pulse.pulse_i2t == Approx(48));
    CHECK(pulse.peak_amps == 10);
    CHECK(pulse.peak_seconds == 0);
    CHECK(fuse_pulse(FuseType::regular, 30, constant(5, 2)).pulse_i2t == 0);
    CHECK(fuse_pulse(FuseType::regular, 30, {}).peak_heat == 0);
}

TEST_CASE("square, half-sine, ramp and dying pulses have the I2t of their shape (F37)") {
    // electronicscatalogs.littelfuse.com/guide/fuse-mounting-accessories/12.php: Ip2 t, Ip2 t / 2, Ip2 t / 3 and
    // Ip2 tau / 2. 50 A for 0.2 s, through a fuse that holds.
    const auto i2t_of = [](double seconds, const auto& amps_at) {
        Waveform wave;
        constexpr int points = 2000;
        for (int i = 0; i <= points; ++i) {
            wave.seconds.push_back(seconds * i / points);
            wave.values.push_back(amps_at(wave.seconds.back()));
        }
        wave.seconds.push_back(seconds + 1e-9);
        wave.values.push_back(0);
        return fuse_pulse(FuseType::maxi, 80, wave).pulse_i2t;
    };
    constexpr double peak = 50;
    constexpr double duration = 0.2;
    constexpr double full = peak * peak * duration;
    CHECK(i2t_of(duration, [](double) { return peak; }) == within(full, 1e-3));
    CHECK(i2t_of(duration, [](double t) { return peak * std::sin(std::acos(-1.0) * t / duration); }) ==
          within(full / 2, 1e-3));
    CHECK(i2t_of(duration, [](double t) { return peak * t / duration; }) == within(full / 3, 1e-3));
    CHECK(i2t_of(10 * duration, [](double t) { return peak * std::exp(-t / duration); }) == within(full / 2, 1e-3));
}

TEST_CASE("a seized motor opens its fuse when the quasi-static course says so") {
    Motor seized = reference_blower(1e-3);
    seized.rotor = Rotor::seized;
    for (const double rating : {25.0, 30.0, 40.0}) {
        FusedMotor fused(seized, rating, 0.008, fuse_ohms(FuseType::regular, rating));
        const StartUp start = fused.start(3);
        CHECK_FALSE(start.motors.at(0).started);
        const CourseResult course = run_course(session(), fused.made.circuit(), State{}, {});
        REQUIRE(course);
        REQUIRE(course->aftermath.size() == 1);
        REQUIRE(start.fuses.at(0).pulse.opens_after);
        CHECK(*start.fuses.at(0).pulse.opens_after == within(course->aftermath[0].seconds, 0.01));
    }
}

TEST_CASE("every position of the demo ends as it has settled, in a long start") {
    for (const State& state : default_states(testing::cab_blower())) {
        INFO(state.label);
        const SettleResult settled = settle(session(), testing::cab_blower(), state, {});
        REQUIRE(settled);
        const StartUpResult start = run_startup(session(), *settled, 60);
        REQUIRE(start);
        REQUIRE(start->motors.size() == 1);
        REQUIRE(start->fuses.size() == 2);
        for (const MotorStart& motor : start->motors) {
            CHECK(motor.end_amps == Approx(settled->point.amps[motor.winding.index]).margin(1e-4));
            CHECK(motor.started == (settled->point.speed[motor.winding.index] > 1));
        }
        for (const FuseStart& fuse : start->fuses) {
            const BranchId element = testing::cab_blower().part(fuse.part).fuse->element;
            CHECK(fuse.amps.values.back() == Approx(settled->point.amps[element.index]).margin(1e-4));
            CHECK_FALSE(fuse.pulse.opens_after.has_value());
        }
    }
}

TEST_CASE("a motor whose torque does not beat its friction stands; a reversed one starts backward") {
    Motor stiff = reference_blower(1e-3);
    stiff.friction_torque = 1.01 * stiff.constant * 79.2;
    const MotorStart stands = ideal_start(stiff, 1);
    CHECK_FALSE(stands.started);
    CHECK(stands.end_rpm == 0);
    CHECK_FALSE(stands.to_63.has_value());
    CHECK(stands.end_amps == within(79.2, 1e-3));

    Motor free = reference_blower(1e-3);
    free.friction_torque = 0.1 * free.constant * 19.8;
    const MotorStart forward = ideal_start(free, 3);
    const MotorStart backward = ideal_start(free, 3, -13.5);
    CHECK(backward.started);
    CHECK(backward.end_rpm == within(-forward.end_rpm, 1e-6));
    CHECK(backward.peak_amps == within(forward.peak_amps, 1e-4));
    REQUIRE((backward.to_95 && forward.to_95));
    CHECK(*backward.to_95 == within(*forward.to_95, 1e-3));
}

TEST_CASE("a motor without inertia or inductance is at once where it settles") {
    Motor motor = reference_blower(0);
    motor.inductance = 0;
    const MotorStart start = ideal_start(motor, 0.05);
    CHECK(start.end_amps == within(19.8, 1e-4));
    CHECK(start.peak_amps == within(19.8, 1e-3));
}

TEST_CASE("the file may say the inertia") {
    const auto start_of = [](const std::string& words) {
        const auto circuit = testing::circuit_of(
            "format = 1\nname = \"fan\"\n[parts]\nB1 = \"battery 12.6V 8mohm\"\n"
            "F1 = \"fuse 30A regular, feed 30\"\nM1 = \"motor 10A @13.5V" +
            words + "\"\nG1 = \"ground frame\"\n[wires]\n1 = \"F1.2 > M1.1 3mm2 RD 1m\"\n" +
            "2 = \"M1.2 > G1 3mm2 BK 1m\"\n");
        const StartUpResult start = run_startup(session(), *circuit, default_states(*circuit).back(), {}, 20);
        REQUIRE(start);
        REQUIRE(start->motors.at(0).to_63);
        return *start->motors.at(0).to_63;
    };
    CHECK(start_of(", inertia 20kgcm2") == within(2 * start_of(""), 0.01));
    CHECK(start_of(", inertia 0.5e-3kgm2") == within(start_of("") / 2, 0.01));
}

TEST_CASE("a start leaves the session as it was, and memory does not grow") {
    FusedMotor fused(reference_blower(1e-3), 25, 0.008, 0.004);
    const SettleResult before = settle(session(), fused.made.circuit(), State{}, {});
    REQUIRE(before);
    for (int i = 0; i < 30; ++i) (void)fused.start(1);
    const double early = resident_mebibytes();
    for (int i = 0; i < 200; ++i) (void)fused.start(1);
#ifndef __SANITIZE_ADDRESS__
    CHECK(resident_mebibytes() - early < 1.0);
#else
    (void)early;
#endif
    const SettleResult after = settle(session(), fused.made.circuit(), State{}, {});
    REQUIRE(after);
    CHECK(after->point.amps[fused.winding.index] == before->point.amps[fused.winding.index]);
}

TEST_CASE("a thinned waveform keeps its shape in few points") {
    Waveform wave;
    for (int i = 0; i <= 6000; ++i) {
        wave.seconds.push_back(i * 0.01);
        wave.values.push_back(20 + 50 * std::exp(-wave.seconds.back()) * (i > 3));
    }
    const Waveform thin = thinned(wave, drawn_points);
    CHECK(thin.values.size() == drawn_points);
    CHECK(thin.values[thin.peak()] == wave.values[wave.peak()]);
    CHECK(thin.seconds.back() == wave.seconds.back());
    double miss = 0;
    for (std::size_t i = 0; i < wave.values.size(); ++i)
        miss = std::max(miss, std::abs(thin.at(wave.seconds[i]) - wave.values[i]));
    CHECK(miss < 0.01);
    CHECK(thinned(constant(1, 1), 3).values.size() <= 3);
}

}  // namespace voltfall::test
