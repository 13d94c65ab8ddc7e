// A linear module that warms by what it drops, and gives less once it is hot.
#include <cmath>
#include <numbers>

#include "netlists/tables/defaults.hpp"
#include "tests/support/aftermaths.hpp"

using namespace voltfall;

namespace {

/// The reference blower of 19.8 A (reference parts 1.5) behind a linear module in its ground.
std::shared_ptr<const Circuit> blower_with(const std::string& options) {
    return read_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 40A maxi, feed 30\"\n"
        "M1 = \"motor 19.8A @13.5V, 3500rpm, stall 79.2A\"\nG1 = \"ground\"\n"
        "Z1 = \"module linear, side low, command 0.8V-6.9V, open command off" +
        options +
        "\"\nH1 = \"head OUT: off=0V lo=2.1V ml=3.6V mh=5.2V hi=6.9V\"\n[wires]\n"
        "10 = \"F1.2 > M1.1 6mm2 RD 1m\"\n11 = \"M1.2 > Z1.M- 6mm2 OG 0.3m\"\n12 = \"F1.2 > Z1.+ 4mm2 RD 0.5m\"\n"
        "13 = \"Z1.- > G1 6mm2 BK 0.5m\"\n20 = \"F1.2 > H1.+ 1mm2 RD 1m\"\n21 = \"H1.OUT > Z1.CMD 1mm2 GN 1m\"\n"
        "22 = \"H1.- > G1 1mm2 BK 0.3m\"\n");
}

/// Half an hour of a sound circuit.
Aftermath half_an_hour(const Circuit& circuit, const std::string& position) {
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, circuit);
    AftermathResult result = run_aftermath(simulator, model, state_named(circuit, position), {}, 1800);
    REQUIRE(result);
    return *std::move(result);
}

double share_of_speed(const Circuit& circuit, const Settled& settled) {
    const BranchId winding = circuit.part(circuit.find_part("M1")).load_branch;
    return std::abs(settled.point.speed[winding.index]) / (3500 * 2 * std::numbers::pi / 60);
}

/// Volts over the module's stage times its amps, from the points that a person could measure.
double stage_watts(const Circuit& circuit, const Settled& settled) {
    const Part& module = circuit.part(circuit.find_part("Z1"));
    const double volts =
        settled.point.volts[module.pins.at("M-").index] - settled.point.volts[module.pins.at("-").index];
    return volts * std::abs(settled.point.amps[circuit.part(circuit.find_part("M1")).load_branch.index]);
}

/// Watts that the heat sink sheds at 110 C in air of 40 C, which carries off `watts` at the rated speed: a quarter of
/// it without wind, the rest as the 0.6th power of the speed (reference parts 2.4).
double shed(double watts, double speed) {
    return watts * (0.25 + 0.75 * std::pow(speed, 0.6));
}

}  // namespace

TEST_CASE("a linear module with a small heat sink folds back on a middle position and stays at that temperature") {
    const auto circuit = blower_with(", 45W, folds 110C");
    const Aftermath after = half_an_hour(*circuit, "ml");
    const HeatEvent* folds = event_named(after, "Z1");
    REQUIRE(folds != nullptr);
    CHECK(folds->kind == HeatEventKind::folds_back);
    CHECK(folds->what == "Z1 folds back at 110 C");
    CHECK(after.opened.empty());
    REQUIRE(after.after);
    // Before it the stage made more heat than the air carries off, and the time to 110 C is that of one thermal pole.
    const double before = share_of_speed(*circuit, after.faulted);
    const double watts = stage_watts(*circuit, after.faulted);
    CHECK(folds->watts == Approx(watts).epsilon(0.02));
    CHECK(watts > 1.1 * shed(45, before));
    const double conductance = shed(45, before) / 70;
    const double capacity = default_value("pack_seconds") * 0.25 * 45 / 70;
    const double seconds = -capacity / conductance * std::log(1 - 70 * conductance / watts);
    CHECK(folds->seconds == Approx(seconds).epsilon(0.03));
    // After it both are equal, the motor is slower, and the temperature stands.
    const double speed = share_of_speed(*circuit, *after.after);
    CHECK(speed < 0.97 * before);
    CHECK(stage_watts(*circuit, *after.after) == Approx(shed(45, speed)).epsilon(0.02));
    CHECK(body_named(after, "Z1").hottest == Approx(110).margin(1));
}

TEST_CASE("a linear module of the usual size holds in every position, and one whose motor is held folds back") {
    const auto circuit = blower_with(", folds 110C");
    for (const char* position : {"lo", "ml", "mh", "hi"}) {
        INFO(position);
        CHECK(half_an_hour(*circuit, position).events.empty());
    }
    // Its fail-safe is over-temperature with a held rotor (reference parts 2.6, S42); the fuse does not see it.
    const Aftermath held = followed(*circuit, "lo", "M1 seized", 1800);
    CHECK(event_named(held, "Z1") != nullptr);
    CHECK(held.opened.empty());
    REQUIRE(held.after);
    CHECK(stage_watts(*circuit, *held.after) == Approx(shed(80, 0)).epsilon(0.02));
    // A line without a fold-back is followed by nothing.
    const Aftermath unknown = followed(*blower_with(""), "lo", "M1 seized", 1800);
    CHECK(event_named(unknown, "Z1") == nullptr);
}
