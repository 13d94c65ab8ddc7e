// What fuses protect, against calculations of its own and facts of the trade.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include "engine/heat/heat_values.hpp"
#include "engine/heat/protection.hpp"
#include "engine/heat/rated_contacts.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/planning/lamp_sections.hpp"
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
    CHECK(gap->state == "mh");
    // A standing motor is its armature behind the brushes' 1 V: Ra = (13.5 - 1) / 80 ohm. The way without it has 0.39
    // ohm
    // (`show`), its last coil 0.35 ohm, behind a battery of 14.2 V and 8 mohm.
    const Settled settled =
        *settle(NgspiceSession::instance(), *circuit, state_named(*circuit, "mh"), faults_named(*circuit, "M1 seized"));
    double ohms = 0.008 + 12.5 / 80;
    const LoadPath path = load_path(settled.network, circuit->find_part("M1"));
    for (const auto* side : {&path.feed, &path.back}) {
        for (const BranchId id : *side) {
            const double own = settled.network.ohms(id);
            ohms += std::isfinite(own) ? own : 0;
        }
    }
    const HeatModel model(NgspiceSession::instance(), *circuit);
    const auto pack =
        std::find_if(model.bodies().begin(), model.bodies().end(), [](const Body& body) { return body.name == "R1"; });
    REQUIRE(pack != model.bodies().end());
    const double tau = pack->capacity / pack->still_air;
    CHECK(tau == Approx(180));  // s in standing air (default table)
    // By small steps: the armature warms too, its copper gains 0.393 %/K of 20 C, and the current falls a little.
    const auto armature = std::find_if(model.bodies().begin(), model.bodies().end(),
                                       [](const Body& body) { return body.name == "M1 winding"; });
    REQUIRE(armature != model.bodies().end());
    const double cold = 12.5 / 80;
    double coils = pack->ambient;
    double copper = armature->ambient;
    double amps = 0;
    double seconds = 0;
    constexpr double step = 0.01;
    for (; coils < 121 && seconds < 600; seconds += step) {
        const double warm = cold * (1 + 0.00393 * (copper - 20)) / (1 + 0.00393 * 5);
        amps = (14.2 - 1.0) / (ohms - cold + warm);
        coils += step * (amps * amps * 0.35 - pack->still_air * (coils - pack->ambient)) / pack->capacity;
        copper += step * (amps * amps * warm + amps - armature->still_air * (copper - armature->ambient)) /
                  armature->capacity;
    }
    CHECK(gap->seconds == Approx(seconds).epsilon(0.03));
    CHECK(gap->amps == Approx(amps).epsilon(0.015));
    CHECK(gap->watts == Approx(amps * amps * 0.35).epsilon(0.03));
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

TEST_CASE("a link four gauges smaller than its wire saves it from a dead short (makers' rule)") {
    // rvelectricity.substack.com/p/a-deep-dive-into-fusible-link-wires: 14 AWG for a 10 AWG wire, and so on; by the two
    // adiabatic forms the areas' ratio must pass sqrt(ln(1317.5 / 264.5) / ln(394.5 / 264.5)) = 2.0, three gauges.
    const auto guarded_by = [](int link, int wire) {
        const CircuitReading reading = read_circuit_text(
            "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nFL1 = \"link " + std::to_string(link) +
                "AWG 0.15m, feed 30\"\nL1 = \"resistor 2ohm\"\nG1 = \"ground\"\n[wires]\nw1 = \"FL1.2 > L1.1 " +
                std::to_string(wire) + "AWG RD 1m\"\nw2 = \"L1.2 > G1 10AWG BK 1m\"\n",
            "link.toml");
        REQUIRE(reading.circuit);
        const Protection protection = judged(*reading.circuit);
        const FuseGuard& guard = guard_named(protection, "FL1");
        REQUIRE(guard.wires.size() == 1);
        return guard.wires.front();
    };
    for (const int link : {18, 16, 14}) {
        INFO("link of " << link << " AWG");
        const WireVerdict four = guarded_by(link, link - 4);
        CHECK(four.hardest_amps > 300);
        CHECK(four.hardest.excess() < 0);
        const WireVerdict two = guarded_by(link, link - 2);
        CHECK(two.hardest.excess() > 0);
        // An overload that the link bears for ever harms either: a link opens on shorts only.
        CHECK_FALSE(four.ok());
    }
}

namespace {

std::shared_ptr<const Circuit> read_with(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    INFO("looked for " << from);
    REQUIRE(at != std::string::npos);
    const CircuitReading reading = read_circuit_text(text.replace(at, from.size(), to), "changed.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.message);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

std::string held_rotor_text(const std::string& file) {
    std::ifstream stream(std::string(PROJECT_DIR) + "/scenarios/held-rotor/" + file);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

}  // namespace

TEST_CASE("a contact bears an overload as long as its published test says (S49)") {
    CHECK_FALSE(contact_bears(25, 25));
    CHECK(*contact_bears(25, 1.35 * 25) == Approx(1800));
    CHECK(*contact_bears(25, 2 * 25) == Approx(5));
    CHECK(*contact_bears(25, 3.5 * 25) == Approx(0.5));
    CHECK(*contact_bears(25, 6 * 25) == Approx(0.1));
    CHECK(*contact_bears(25, 12 * 25) == Approx(0.025));
    CHECK(*contact_bears(25, 1.1 * 25) > 1800);
}

TEST_CASE("a clutch coil with shorted turns burns the relay behind too large a fuse") {
    const std::string clutch = scenario_text("clutch.toml");
    const auto sound = scenario_circuit("clutch.toml");
    CHECK(gap_of(judged(*sound), "A1 coil shorted-turns", "K7 contact") == nullptr);
    const auto contact_of = [](const Protection& protection) {
        const std::vector<ContactVerdict>& contacts = guard_named(protection, "F5").contacts;
        REQUIRE(contacts.size() == 1);
        CHECK(contacts.front().name == "K7 contact");
        return contacts.front();
    };
    CHECK(contact_of(judged(*sound)).ok());
    // Its 25 A relay behind 30 A in place of 10 A: 30 A mini holds 36 A for ever, 1.35 times 25 A are borne for 1800 s.
    const ContactVerdict behind = contact_of(judged(*read_with(clutch, "fuse 10A mini", "fuse 30A mini")));
    REQUIRE(behind.fails_from);
    CHECK(*behind.fails_from == Approx(1.35 * 25).epsilon(0.06));
    // The recall's 10 A relay: a coil with few turns left burns it, and the fuse holds.
    std::string recalled = clutch;
    recalled.replace(recalled.find("relay 25A"), 9, "relay 10A");
    const Protection protection = judged(*read_with(recalled, "fuse 10A mini", "fuse 30A mini"));
    const ProtectionGap* gap = gap_of(protection, "A1 coil shorted-turns", "K7 contact");
    REQUIRE(gap != nullptr);
    CHECK(gap->kind == BodyKind::rating);
    CHECK(gap->amps > 1.35 * gap->rating);
    CHECK(gap->fuse == "F5 never opens");
}

TEST_CASE("with a limiter of 300 C the pack chars before it opens (NHTSA 94E026's mechanism)") {
    const auto circuit = read_with(held_rotor_text("minibus-rear.toml"), "limiter 121C", "limiter 300C");
    const Protection protection = judged(*circuit);
    const ProtectionGap* gap = gap_of(protection, "M2 seized", "R2");
    REQUIRE(gap != nullptr);
    CHECK_FALSE(gap->limiter);
    REQUIRE(gap->limiter_celsius);
    CHECK(*gap->limiter_celsius == 300);
}

TEST_CASE("a seized fan behind a breaker that resets is a gap by its cycles") {
    const auto circuit = read_with(held_rotor_text("bakery-van.toml"), "fuse 25A regular", "breaker 25A resets");
    const Protection protection = judged(*circuit);
    const auto gap = std::find_if(protection.gaps.begin(), protection.gaps.end(), [](const ProtectionGap& one) {
        return one.fault == "M1 seized" && one.what == "M1 winding";
    });
    REQUIRE(gap != protection.gaps.end());
    CHECK(gap->fuse.find("F3 opens and closes, closed ") == 0);
    CHECK(gap->seconds > 60);
}

TEST_CASE("switches, keys and connectors carry a rating where their line names one") {
    const auto circuit = read_with(held_rotor_text("bakery-van.toml"), "switch C:", "switch 10A, C:");
    const Protection protection = judged(*circuit);
    const auto gap = std::find_if(protection.gaps.begin(), protection.gaps.end(), [](const ProtectionGap& one) {
        return one.kind == BodyKind::rating && one.what.starts_with("S1 contact");
    });
    REQUIRE(gap != protection.gaps.end());
    CHECK(gap->rating == 10);
}
