// Where the switch stands matters when a wire touches ground: row C24 (READ: Lessons in Electric Circuits, Digital
// volume, ladder.sml), as circuits that a person types.
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;

namespace {

std::shared_ptr<const Circuit> ladder(const std::string& wires) {
    const CircuitReading reading = read_circuit_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 10A mini, feed 30\"\n"
        "S1 = \"switch C: off on=1\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n" +
            wires + "[controls]\nS1 = \"lamp\"\n",
        "ladder.toml");
    REQUIRE(reading.circuit);
    return reading.circuit;
}

struct Rung {
    bool fuse_opens{};
    LoadSeen lamp{};
};

Rung with_ground_at(const Circuit& circuit, const std::string& position, const std::string& wire) {
    const auto faults = faults_named(circuit, wire + " chafe 10mohm");
    Simulator& simulator = NgspiceSession::instance();
    const State state = state_named(circuit, position);
    const CourseResult course = run_course(simulator, circuit, state, faults);
    const SettleResult healthy = settle(simulator, circuit, state, {});
    REQUIRE((course && healthy));
    return {!course->opened.empty(), load_state(course->end(), circuit.find_part("L1"), &*healthy).seen};
}

}  // namespace

TEST_CASE("C24: a switch on the hot side lets the fuse go, one on the ground side leaves the lamp lit") {
    const auto hot_side =
        ladder("1 = \"F1.2 > S1.C 1.5mm2 RD 1m\"\n2 = \"S1.1 > L1.1 1.5mm2 RD 1m\"\n3 = \"L1.2 > G1 1.5mm2 BK 1m\"\n");
    // (a) The lamp cannot light; closing the switch blows the fuse.
    const Rung off = with_ground_at(*hot_side, "off", "2");
    CHECK_FALSE(off.fuse_opens);
    CHECK(off.lamp == LoadSeen::off);
    const Rung on = with_ground_at(*hot_side, "on", "2");
    CHECK(on.fuse_opens);
    CHECK(on.lamp == LoadSeen::dead);

    const auto ground_side =
        ladder("1 = \"F1.2 > L1.1 1.5mm2 RD 1m\"\n2 = \"L1.2 > S1.C 1.5mm2 RD 1m\"\n3 = \"S1.1 > G1 1.5mm2 BK 1m\"\n");
    // (b) The lamp is always on, the switch has no effect.
    for (const char* position : {"off", "on"}) {
        const Rung rung = with_ground_at(*ground_side, position, "2");
        INFO(position);
        CHECK_FALSE(rung.fuse_opens);
        CHECK((rung.lamp == LoadSeen::runs || rung.lamp == LoadSeen::normal));
    }
}
