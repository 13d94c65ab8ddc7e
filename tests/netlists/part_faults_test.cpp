// What the faults of parts change, by figures worked out by hand.
#include <algorithm>
#include <cmath>

#include "netlists/circuit/network.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/text/words.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using voltfall::testing::circuit_of;

namespace {

/// A motor, a pack and a relay with both contacts and a diode, side by side behind one fuse.
const Circuit& parts() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 40A maxi, feed 30"
M1 = "motor 20A @13.5V, 3500rpm, stall 80A, idle 2A, inductance 150uH"
R1 = "pack 1 1.2ohm 2 0.7ohm 3"
K1 = "relay 40A, coil 90ohm, diode"
L1 = "lamp 21W"
L2 = "lamp 21W"
[wires]
1 = "F1.2 > M1.1  4mm2 RD 1m"
2 = "M1.2 > 31    4mm2 BK 1m"
3 = "F1.2 > R1.1  4mm2 RD 1m"
4 = "R1.3 > 31    4mm2 BK 1m"
5 = "F1.2 > K1.30 4mm2 RD 1m"
6 = "F1.2 > K1.86 1mm2 RD 1m"
7 = "K1.85 > 31   1mm2 BK 1m"
8 = "K1.87 > L1.1  1mm2 RD 1m"
9 = "L1.2 > 31     1mm2 BK 1m"
10 = "K1.87a > L2.1 1mm2 RD 1m"
11 = "L2.2 > 31     1mm2 BK 1m"
)");
    return *circuit;
}

Network with_fault(const std::string& phrase, double size = 0) {
    Network network(parts());
    for (const ModePtr& mode : parts().modes) {
        if (mode->phrase() != phrase) continue;
        network.apply(mode->changes(size, 0.5));
        return network;
    }
    FAIL("no fault " << phrase);
    return network;
}

BranchId branch_of(const std::string& part, const std::string& role) {
    for (const BranchId id : parts().part(parts().find_part(part)).branches) {
        if (parts().branch(id).role == role) return id;
    }
    FAIL("no " << role << " in " << part);
    return {};
}

Motor motor_with(const std::string& phrase, double size) {
    return std::get<Motor>(with_fault(phrase, size).at(branch_of("M1", "winding")).law);
}

}  // namespace

TEST_CASE("a motor that drags by a factor draws so much more at its nameplate's volts") {
    for (const double factor : {1.1, 1.4, 2.0, 3.0}) {
        INFO("drag " << factor);
        const Motor drags = motor_with("M1 drag", factor);
        double speed = 0;
        const Flow flow = drags.flow(BranchState{}, 13.5, speed);
        CHECK(flow.amps == Approx(factor * 20).epsilon(1e-6));
        // V = I Ra + Vb + K w with 0.15625 ohm and 1 V: slower than sound, as any motor is that is held back.
        CHECK(speed == Approx((13.5 - 1 - factor * 20 * 0.15625) / drags.constant).epsilon(1e-6));
        CHECK(speed < radians_per_second(3500));
    }
    const double speed = radians_per_second(3500);
    const Motor fouled = motor_with("M1 fouled", 1.5);
    // 2 A turn the shaft, 18 A the fan: 2 + 1.5 x 18.
    CHECK((fouled.friction_torque + fouled.fan_torque * speed * speed) / fouled.constant == Approx(29));
}

TEST_CASE("of a motor's turns ohms and constant fall with their share, the inductance with its square") {
    const Motor healthy = std::get<Motor>(Network(parts()).at(branch_of("M1", "winding")).law);
    const Motor shorted = motor_with("M1 shorted-turns", 0.8);
    // (13.5 - 1) V / 80 A = 0.15625 ohm; 150 uH x 0.64 = 96 uH.
    CHECK(shorted.armature_ohms == Approx(0.15625 * 0.8));
    CHECK(shorted.constant == Approx(healthy.constant * 0.8));
    CHECK(shorted.inductance == Approx(96e-6));
}

TEST_CASE("shorted coils turn as a generator on their own ohms and brake the motor") {
    const Motor healthy = std::get<Motor>(Network(parts()).at(branch_of("M1", "winding")).law);
    const Motor shorted = motor_with("M1 shorted-turns", 0.85);
    double sound_speed = 0;
    double speed = 0;
    const double sound_amps = healthy.flow(BranchState{}, 13.5, sound_speed).amps;
    const double amps = shorted.flow(BranchState{}, 13.5, speed).amps;
    // More current and no more speed: no healthy-sounding faster motor.
    CHECK(amps > 1.2 * sound_amps);
    CHECK(speed < 1.02 * sound_speed);
    // By hand, 12 coils in two paths: each has K w / 6 volts of its own and Ra / 3 ohms; 15 % of them are 1.8 coils.
    const double coil_volts = healthy.constant * speed / 6;
    const double brake_watts = 1.8 * coil_volts * coil_volts / (healthy.armature_ohms / 3);
    CHECK(shorted.shorted_brake * speed * speed == Approx(brake_watts).epsilon(1e-9));
    // All watts: copper, brushes, friction, fan and the shorted coils.
    const Power power = shorted.power(BranchState{}, BatteryState::resting, {13.5, amps, speed});
    CHECK(power.spent == Approx(13.5 * amps).epsilon(1e-6));
    const double shaft = shorted.friction_torque * speed + shorted.fan_torque * speed * speed * speed;
    CHECK(amps * amps * shorted.armature_ohms + amps + shaft + brake_watts == Approx(13.5 * amps).epsilon(1e-3));
    // Fewer still, and it slows down for good.
    double half_speed = 0;
    CHECK(motor_with("M1 shorted-turns", 0.5).flow(BranchState{}, 13.5, half_speed).amps > 2 * sound_amps);
    CHECK(half_speed < sound_speed);
}

TEST_CASE("a coil that has drifted by half has half as many ohms more") {
    CHECK(with_fault("R1 coil 1-2 drift", 1.5).ohms(branch_of("R1", "coil 1-2")) == Approx(1.8));
    CHECK(with_fault("R1 coil 1-2 drift", 1.5).ohms(branch_of("R1", "coil 2-3")) == Approx(0.7));
}

TEST_CASE("a welded relay has closed 30 to 87 and left 87a for good") {
    Network welded = with_fault("K1 welded");
    CHECK(welded.conducts(branch_of("K1", "contact")));
    CHECK_FALSE(welded.conducts(branch_of("K1", "contact 87a")));
    CHECK(welded.at(branch_of("K1", "contact")).held);
    CHECK(welded.at(branch_of("K1", "contact 87a")).held);
}

TEST_CASE("a relay welded to its resting throw keeps 87a closed and never closes 87") {
    Network welded = with_fault("K1 contact 87a welded");
    CHECK_FALSE(welded.conducts(branch_of("K1", "contact")));
    CHECK(welded.conducts(branch_of("K1", "contact 87a")));
    CHECK(welded.at(branch_of("K1", "contact")).held);
    CHECK(welded.at(branch_of("K1", "contact 87a")).held);
}

TEST_CASE("a relay used at rest only sticks pulled and leaves 87a for good, or welds there") {
    const auto fan = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 15A regular, feed 30"
K1 = "relay 30A, coil 90ohm"
M1 = "motor 8A @13.5V, 2400rpm, stall 32A"
[wires]
1 = "F1.2 > K1.30 2.5mm2 BN 1m"
2 = "F1.2 > K1.86 1mm2 BN 1m"
3 = "K1.85 > 31 1mm2 BK 1m"
4 = "K1.87a > M1.1 2.5mm2 VT 1m"
5 = "M1.2 > 31 2.5mm2 BK 1m"
)");
    const BranchId resting = fan->part(fan->find_part("K1")).relay->normally_closed;
    const auto with = [&](const std::string& words) {
        const auto mode =
            std::find_if(fan->modes.begin(), fan->modes.end(), [&](const ModePtr& m) { return m->phrase() == words; });
        REQUIRE(mode != fan->modes.end());
        CHECK((*mode)->catalogued);
        Network network(*fan);
        network.apply((*mode)->changes(0, 0.5));
        CHECK(network.at(resting).held);
        return network.conducts(resting);
    };
    CHECK_FALSE(with("K1 stuck pulled"));
    CHECK(with("K1 welded"));
}

TEST_CASE("ohms that a burnt contact gains are its own") {
    const BranchId rests_closed = branch_of("K1", "contact 87a");
    const double healthy = Network(parts()).ohms(rests_closed);
    CHECK(healthy < 0.02);
    CHECK(with_fault("K1 contact 87a resistance", 0.5).ohms(rests_closed) == Approx(healthy + 0.5));
}

TEST_CASE("a relay's diode has its cathode at 86, where plus is") {
    const Branch& diode = parts().branch(branch_of("K1", "diode"));
    CHECK(parts().joint(diode.a).name == "K1.85");
    CHECK(parts().joint(diode.b).name == "K1.86");
}

TEST_CASE("a battery that is not charged keeps its rest volts with the engine running") {
    const Source flat = std::get<Source>(with_fault("B1 not-charging").at(branch_of("B1", "cell")).law);
    CHECK(flat.emf(BatteryState::charging) == Approx(12.6));
    const Source sound = std::get<Source>(Network(parts()).at(branch_of("B1", "cell")).law);
    CHECK(sound.emf(BatteryState::charging) == Approx(14.2));
}

TEST_CASE("two resistances in one joint add up") {
    const BranchId coil = branch_of("R1", "coil 1-2");
    Network network(parts());
    network.apply(std::vector<Change>{AddOhms{coil, 0.3}, AddOhms{coil, 0.5}});
    CHECK(network.ohms(coil) == Approx(2.0));
}
