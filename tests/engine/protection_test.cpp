// What fuses protect, against calculations of its own and facts of the trade.
#include <algorithm>
#include <cmath>

#include "engine/heat/heat_values.hpp"
#include "engine/heat/protection.hpp"
#include "engine/planning/lamp_sections.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "netlists/graph/paths.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;

namespace {

Protection judged(const Circuit& circuit) {
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, circuit);
    ProtectionResult result = judge_protection(simulator, model, default_states(circuit));
    REQUIRE(result);
    return *std::move(result);
}

std::shared_ptr<const Circuit> with_fuse(const std::string& rating) {
    std::string text = scenario_text("cab-blower.toml");
    const auto at = text.find("fuse 40A");
    REQUIRE(at != std::string::npos);
    text.replace(at, 8, "fuse " + rating);
    const CircuitReading reading = read_circuit_text(text, "cab-blower.toml");
    REQUIRE(reading.circuit);
    return reading.circuit;
}

const FuseGuard& guard_named(const Protection& protection, const std::string& name) {
    const auto found = std::find_if(protection.fuses.begin(), protection.fuses.end(),
                                    [&](const FuseGuard& guard) { return guard.name == name; });
    REQUIRE(found != protection.fuses.end());
    return *found;
}

const ProtectionGap* gap_of(const Protection& protection, const std::string& fault, const std::string& what) {
    for (const ProtectionGap& gap : protection.gaps) {
        if (gap.fault.starts_with(fault) && gap.what == what) return &gap;
    }
    return nullptr;
}

}  // namespace

TEST_CASE("in a well-made circuit every fuse opens before its wires are harmed (common practice, no source)") {
    for (const std::string file : {"cab-blower.toml", "rear-blower.toml", "clutch.toml"}) {
        const auto circuit = scenario_circuit(file);
        const Protection protection = judged(*circuit);
        int wires = 0;
        for (const FuseGuard& guard : protection.fuses) {
            for (const WireVerdict& wire : guard.wires) {
                INFO(file << " " << guard.name << " " << wire.wire);
                CHECK(wire.ok());
                CHECK(wire.hardest_amps > guard.rating);
                ++wires;
            }
        }
        CHECK(wires > 0);
    }
}

TEST_CASE("a fuse one size up leaves a wire that burns before it opens") {
    // 50 A holds 60 A for ever; the wire past the hot tube, in 50 C, bears less.
    const Protection next = judged(*with_fuse("50A"));
    const std::vector<WireVerdict>& wires = guard_named(next, "F7").wires;
    REQUIRE(wires.size() == 2);
    CHECK(wires[0].wire == "541");
    CHECK(wires[0].ok());
    CHECK(wires[1].wire == "542");
    // The hardest short that the fuse must see is one at the wire's far end, behind all of its ohms.
    for (const auto& [wire, part] : {std::pair{0, "541"}, std::pair{1, "542"}}) {
        const auto circuit = with_fuse("50A");
        const BranchId element = circuit->part(circuit->find_part("F7")).fuse->element;
        double middle = 0;
        for (const State& state : default_states(*circuit)) {
            const SettleResult settled = settle(NgspiceSession::instance(), *circuit, state,
                                                faults_named(*circuit, std::string(part) + " chafe 1mohm at 50%"));
            REQUIRE(settled);
            middle = std::max(middle, std::abs(settled->point.amps[element.index]));
        }
        INFO(part << ": " << wires[wire].hardest_amps);
        CHECK(wires[wire].hardest_amps < middle);
    }
    CHECK_FALSE(wires[1].ok());
    const Protection larger = judged(*with_fuse("60A"));
    const FuseGuard& guard = guard_named(larger, "F7");
    CHECK(guard.colour == "blue");
    REQUIRE_FALSE(guard.wires.empty());
    for (const WireVerdict& wire : guard.wires) {
        INFO(wire.wire);
        CHECK_FALSE(wire.ok());
        // By hand: 66 A held for ever in 6 mm2, which carries 66 A at 105 C in air of 30 C.
        CHECK(*wire.fails_from == Approx(66).epsilon(0.02));
        CHECK(wire.worst.celsius > 105);
    }
}

TEST_CASE("the seized motor is a gap, with the watts and seconds of a calculation by hand (NHTSA 01V003, 01V262)") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Protection protection = judged(*circuit);
    const ProtectionGap* gap = gap_of(protection, "M1 seized", "R1");
    REQUIRE(gap != nullptr);
    CHECK(gap->limiter);
    CHECK(gap->fuse == "F7 never opens");
    CHECK(gap->state == "m2");
    // A standing motor is its armature behind the brushes' 1 V: Ra = (13.5 - 1) / 80 ohm. The way without it has 0.39
    // ohm
    // (`show`), its last coil 0.35 ohm, behind a battery of 14.2 V and 8 mohm.
    const Settled settled =
        *settle(NgspiceSession::instance(), *circuit, state_named(*circuit, "m2"), faults_named(*circuit, "M1 seized"));
    double ohms = 0.008 + 12.5 / 80;
    const LoadPath path = load_path(settled.network, circuit->find_part("M1"));
    for (const auto* side : {&path.feed, &path.back}) {
        for (const BranchId id : *side) {
            const double own = settled.network.ohms(id);
            ohms += std::isfinite(own) ? own : 0;
        }
    }
    const double amps = (14.2 - 1.0) / ohms;
    CHECK(gap->amps == Approx(amps).epsilon(0.01));
    CHECK(gap->watts == Approx(amps * amps * 0.35).epsilon(0.02));
    const HeatModel model(NgspiceSession::instance(), *circuit);
    const auto pack =
        std::find_if(model.bodies().begin(), model.bodies().end(), [](const Body& body) { return body.name == "R1"; });
    REQUIRE(pack != model.bodies().end());
    const double tau = pack->capacity / pack->still_air;
    CHECK(tau == Approx(180));  // s in standing air (default table)
    const double rise = amps * amps * 0.35 / pack->still_air;
    CHECK(gap->seconds == Approx(-tau * std::log(1 - (121 - pack->ambient) / rise)).epsilon(0.03));
}

TEST_CASE("no gap contradicts its own arithmetic") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Protection protection = judged(*circuit);
    CHECK(gap_of(protection, "C101.4 resistance", "C101.4") != nullptr);
    CHECK(gap_of(protection, "M1 seized", "R1") != nullptr);
    for (const ProtectionGap& gap : protection.gaps) {
        INFO(gap.fault << " in " << gap.state << ": " << gap.what);
        CHECK(gap.seconds > 0);
        CHECK(gap.watts > 0);
        // Volts of the battery times amperes bound every watt; a pack may be fed from both its ends.
        CHECK(gap.watts <= (gap.kind == BodyKind::pack ? 2 : 1) * 14.2 * gap.amps * 1.01);
        const FuseGuard& feed = guard_named(protection, "F7");
        // A fuse that is said to hold carries a current that its typical part bears, or opens later than the gap.
        if (gap.fuse == "F7 never opens") CHECK(gap.amps < 1.3 * feed.rating);
    }
}

TEST_CASE("a circuit's [heat] section moves its figures") {
    std::string text = scenario_text("cab-blower.toml");
    const CircuitReading usual = read_circuit_text(text, "usual.toml");
    text += "\n[heat]\nambient-air = \"90C\"\npack-rise = \"20C\"\nwire-class = \"80C\"\n";
    const CircuitReading warm = read_circuit_text(text, "warm.toml");
    REQUIRE((usual.circuit && warm.circuit));
    CHECK(heat_value(*warm.circuit, "ambient_air") == 90);
    CHECK(heat_value(*usual.circuit, "ambient_air") == 40);
    CHECK(wire_limit_for(*warm.circuit, warm.circuit->wires.front(), std::nullopt) == 80);
    CHECK(wire_limit_for(*usual.circuit, usual.circuit->wires.front(), std::nullopt) == 105);
    // Class steady, + 25 K for 240 h, + 50 K for 6 h (reference parts 4.1, S68); 160 C for PVC in a short (S69).
    CHECK(wire_limit_for(*usual.circuit, usual.circuit->wires.front(), 100 * 3600.0) == 130);
    CHECK(wire_limit_for(*usual.circuit, usual.circuit->wires.front(), 3600.0) == 155);
    CHECK(wire_limit_for(*usual.circuit, usual.circuit->wires.front(), 1.0) == 160);
    CHECK(assumed_heat(*warm.circuit).size() + 3 == assumed_heat(*usual.circuit).size());
}

TEST_CASE("with a lamp in the fuse's seat the millivolts end where the short is") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    State state = state_named(*circuit, "off");
    CHECK_FALSE(lamp_sections(NgspiceSession::instance(), *circuit, state));
    state.lamp_in = {circuit->find_part("F7")};
    const auto lamp = lamp_sections(NgspiceSession::instance(), *circuit, state);
    REQUIRE(lamp);
    REQUIRE(lamp->sections.size() == 3);
    const auto millivolts = [&](const std::string& fault) {
        for (const LampSections::Short& row : lamp->shorts) {
            if (row.fault.starts_with(fault)) return row.millivolts;
        }
        FAIL("no short " << fault);
        return std::vector<double>{};
    };
    // 21 W at 13.5 V draws about 1.6 A; a wire shows it over all its length, or over the half before the short.
    const std::vector<double> near = millivolts("541 chafe");
    const std::vector<double> far = millivolts("M1 short-to-case");
    CHECK(near[0] == Approx(far[0] / 2).epsilon(0.02));
    CHECK(std::abs(near[1]) < 0.01);
    CHECK(std::abs(near[2]) < 0.01);
    const double amps = far[0] / 1000 / circuit->wire(circuit->find_wire("541")).ohms;
    CHECK(amps > 1);
    CHECK(amps < 2.5);
}
