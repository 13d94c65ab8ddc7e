// Electronics as branches: the averaged chopper against a transient of the switched circuit, the kinds against the
// separate program.
#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/solve/settled.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/parts/chopper.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/spice/deck.hpp"
#include "tests/support/batch_run.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::test {

namespace {

/// A load that a chopper sees: a winding's ohms and inductance, and the volts that its speed makes.
struct Load {
    double ohms;
    double henry;
    double emf;
};

struct Means {
    double load_volts;
    double load_amps;
    double feed_amps;
};

constexpr double supply = 13.5;
constexpr double feed_ohms = 0.05;
constexpr Chopper chopper{0.015, 0.5};

/// The circuit as it is switched: a transistor of `on_ohms`, a diode of a fixed drop, 20 kHz, averaged by ngspice over
/// the last periods of a transient. A capacitor keeps the supply at the module steady, as every module has one.
Means switched(double duty, const Load& load) {
    const std::string text = fmt::format(
        "switched\n"
        "v1 s 0 {0}\nrf s p0 {1}\nvf p0 p 0\ncp p 0 10m ic={0}\n"
        "s1 p out g 0 transistor\nvg g 0 pulse(0 1 0 20n 20n {2} 50u)\n"
        "vd dn 0 -{3}\ndd dn d1 junction\nrd d1 out {4}\n"
        "rl out m {5}\nl1 m e {6} ic=0\nvl e e1 0\nvm e1 0 {7}\n"
        ".model transistor sw(vt=0.5 vh=0 ron={4} roff=1meg)\n.model junction d(is=1e-6 n=0.01)\n"
        ".options reltol=1e-4 method=gear\n"
        ".control\ntran 0.5u 20m 15m 0.5u uic\n"
        "meas tran volts avg v(out) from=15m to=20m\nmeas tran amps avg i(vl) from=15m to=20m\n"
        "meas tran feed avg i(vf) from=15m to=20m\nprint volts\nprint amps\nprint feed\n.endc\n.end\n",
        supply, feed_ohms, duty * 50e-6 - 20e-9, chopper.diode_volts, chopper.on_ohms, load.ohms, load.henry, load.emf);
    const auto printed = batch_run(text);
    return {printed.at("volts"), printed.at("amps"), printed.at("feed")};
}

Means averaged(double duty, const Load& load) {
    BranchCircuit made;
    made.source("v", "s", "0", supply);
    const BranchId feed = made.resistor("feed", "s", "p", feed_ohms);
    const std::vector<Law> laws = chopper_laws(chopper, duty);
    made.branch("path", "p", "out", laws[0]);
    made.branch("wheel", "out", "0", laws[1]);
    made.branch("cross", "p", "0", laws[2]);
    const BranchId winding = made.resistor("winding", "out", "e", load.ohms);
    made.source("emf", "e", "0", load.emf, 1e-6);
    const Network network = made.network();
    const SolveResult core = solver().solve(network);
    const SolveResult record = ngspice().solve(network);
    REQUIRE(core);
    REQUIRE(record);
    for (std::size_t joint = 0; joint < network.joints; ++joint)
        CHECK(core->volts[joint] == Approx(record->volts[joint]).margin(1e-6));
    CHECK(check_balance(network, *core).holds());
    return {core->volts[made.joint("out").index], core->amps[winding.index], core->amps[feed.index]};
}

std::shared_ptr<const Circuit> starter(const std::string& name) {
    const CircuitReading reading =
        read_circuit_file(std::string(PROJECT_DIR) + "/scenarios/starters/" + name + ".toml");
    INFO(testing::all_problems(reading.problems));
    REQUIRE(reading.circuit);
    return reading.circuit;
}

const char* const electronic[] = {"module-linear", "module-pwm", "brushless", "brushless-bus", "door-actuator"};

}  // namespace

TEST_CASE("mean volts and amps of a chopper are those of the switched circuit within 1 %") {
    const Load load{0.35, 500e-6, 3.0};
    for (const double duty : {0.4, 0.6, 0.85}) {
        INFO("duty " << duty);
        const Means wanted = switched(duty, load);
        const Means got = averaged(duty, load);
        CHECK(got.load_volts == Approx(wanted.load_volts).epsilon(0.01));
        CHECK(got.load_amps == Approx(wanted.load_amps).epsilon(0.01));
        CHECK(got.feed_amps == Approx(wanted.feed_amps).epsilon(0.01));
        // The reason for the averaging: the feed carries the duty's share of the motor's current.
        CHECK(got.feed_amps == Approx(duty * got.load_amps).epsilon(1e-6));
    }
}

TEST_CASE("a chopper neither makes power nor loses more than its ohms and its diode") {
    const Load load{0.35, 500e-6, 3.0};
    for (const double duty : {0.1, 0.5, 1.0}) {
        const Means got = averaged(duty, load);
        const double in = (supply - feed_ohms * got.feed_amps) * got.feed_amps;
        const double out = got.load_volts * got.load_amps;
        const double lost =
            chopper.on_ohms * got.load_amps * got.load_amps + (1 - duty) * chopper.diode_volts * got.load_amps;
        CHECK(in - out == Approx(lost).epsilon(1e-6));
    }
}

TEST_CASE("the deck of every electronic kind gives the separate program the same volts") {
    for (const char* name : electronic) {
        const auto circuit = starter(name);
        for (const State& state : default_states(*circuit)) {
            INFO(name << " at " << state.label);
            const SettleResult settled = settle(solver(), *circuit, state, {});
            REQUIRE(settled);
            const Deck deck = build_deck(settled->network);
            const auto printed = batch_run(deck_file_text(deck, settled->network));
            for (std::uint32_t joint = 0; joint < settled->network.joints; ++joint) {
                const int node = deck.node_of_joint[joint];
                if (node == 0 || settled->floats({joint})) continue;
                const auto found = printed.find(Deck::node_name(node));
                if (found == printed.end()) continue;
                INFO(circuit->joints[joint].name);
                CHECK(found->second == Approx(settled->point.volts[joint]).margin(1e-5));
            }
        }
    }
}

TEST_CASE("what a linear stage loses is greatest near two thirds of the volts") {
    // E18 of the reference table, DERIVED: 42.8 W at 8.85 V and 9.2 A, of the table's motor of 19.8 A at 13.5 V.
    const Motor motor = motor_from_nameplate({13.5, 19.8, 3500, 79.2, 0, 1.0});
    double most = 0;
    double at_volts = 0;
    double at_amps = 0;
    for (double drop = 0.1; drop < 12; drop += 0.01) {
        BranchCircuit made;
        made.source("supply", "plus", "0", supply, 1e-6);
        const BranchId stage = made.branch("stage", "plus", "out", Stage{1e6, drop, true});
        made.branch("motor", "out", "0", motor);
        const SolveResult solved = solver().solve(made.network());
        REQUIRE(solved);
        const double amps = solved->amps[stage.index];
        if (amps * drop <= most) continue;
        most = amps * drop;
        at_amps = amps;
        at_volts = solved->volts[made.joint("out").index];
    }
    CHECK(most == Approx(42.8).epsilon(0.01));
    CHECK(at_volts == Approx(8.85).epsilon(0.01));
    CHECK(at_amps == Approx(9.2).epsilon(0.01));
}

}  // namespace voltfall::test
