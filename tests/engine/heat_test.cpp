// Heat: one-pole bodies against closed forms and published values, and what happens to a circuit with time.
#include <cmath>
#include <functional>

#include "engine/heat/aftermath.hpp"
#include "engine/heat/wire_heat.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/wires.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;

namespace {

/// Copper per metre of 1 mm2: heat capacity of IEC 60949, J/K, and ohms.
constexpr double joule = 3.45;
const double ohms = copper_ohm_per_metre(1);

Aftermath followed(const Circuit& circuit, const std::string& state, const std::string& fault, double seconds) {
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, circuit);
    AftermathResult result =
        run_aftermath(simulator, model, state_named(circuit, state), faults_named(circuit, fault), seconds);
    REQUIRE(result);
    return *std::move(result);
}

const HeatEvent* event_named(const Aftermath& aftermath, const std::string& name) {
    for (const HeatEvent& event : aftermath.events) {
        if (event.name == name) return &event;
    }
    return nullptr;
}

const BodyHeat& body_named(const Aftermath& aftermath, const std::string& name) {
    for (const BodyHeat& body : aftermath.bodies) {
        if (body.name == name) return body;
    }
    FAIL("no body " << name);
    return aftermath.bodies.front();
}

std::shared_ptr<const Circuit> read_text(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "heat.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.message);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

/// A blower on high behind something that opens, or behind nothing.
std::shared_ptr<const Circuit> blower_behind(const std::string& line) {
    const std::string feed = line.empty() ? "B1+" : "F1.2";
    return read_text("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n" +
                     (line.empty() ? "" : "F1 = \"" + line + ", feed 30\"\n") +
                     "M1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\nS1 = \"switch C: off hi=1\"\nG1 = "
                     "\"ground\"\n[wires]\nw1 = \"" +
                     feed + " > M1.1 6mm2 RD 1m\"\nw2 = \"M1.2 > S1.C 6mm2 BK 1m\"\nw3 = \"S1.1 > G1 6mm2 BK 0.5m\"\n");
}

const Body& model_body(const HeatModel& model, const std::string& name) {
    const auto found =
        std::find_if(model.bodies().begin(), model.bodies().end(), [&](const Body& body) { return body.name == name; });
    REQUIRE(found != model.bodies().end());
    return *found;
}

}  // namespace

TEST_CASE("one pole warms by its closed form (reference parts 5.2, E10)") {
    // Vehicle cable of S68: 83 A, 100 C at the start, 138 C in the end, tau 188.8 s: 105 C at 26.6 s (published 27),
    // 130 C at 294 s (published about 290), 155 C never.
    const double conductance = 1;
    const double capacity = 188.8 * conductance;
    const LinearHeat heat = heat_of_body(138 - 40, capacity, conductance, 40);
    CHECK(*steady_temperature(heat) == Approx(138));
    CHECK(*seconds_to_reach(heat, 100, 105) == Approx(27).epsilon(0.03));
    CHECK(*seconds_to_reach(heat, 100, 130) == Approx(290).epsilon(0.03));
    CHECK_FALSE(seconds_to_reach(heat, 100, 155));
    CHECK(*seconds_to_reach(heat, 100, 99) == 0);
    CHECK(temperature_after(heat, 100, 26.6) == Approx(105).epsilon(0.001));
    CHECK(temperature_after(heat, 200, 1e6) == Approx(138));
}

TEST_CASE("a short without time to cool follows IEC 60949 (W32, E3, E8, E8b)") {
    // Copper k of 70 to 160, 90 to 160 and 90 to 250 C: 114.8, 99.7 and 142.9 A s^0.5 / mm2, published 115, 100 and
    // 143.
    struct Row {
        double from, to, k;
    };
    for (const Row& row : {Row{70, 160, 114.8}, Row{90, 160, 99.7}, Row{90, 250, 142.9}}) {
        INFO(row.from << " to " << row.to);
        const LinearHeat heat = heat_of_wire(100, ohms, joule, 0, row.from);
        CHECK(std::sqrt(*seconds_to_reach(heat, row.from, row.to)) * 100 == Approx(row.k).epsilon(0.003));
    }
    // 1.5 mm2, 150 A, k 115: 1.3225 s.
    const LinearHeat heat = heat_of_wire(150, ohms / 1.5, joule * 1.5, 0, 70);
    CHECK(*seconds_to_reach(heat, 70, 160) == Approx(1.3225).epsilon(0.006));
    // 90 to 250 C in 1 s: published 360, 570, 860 and 1430 A for 2.5, 4, 6 and 10 mm2 (uecables.com 293-p18).
    const double areas[] = {2.5, 4, 6, 10};
    const double published[] = {360, 570, 860, 1430};
    for (int i = 0; i < 4; ++i) {
        const LinearHeat one = heat_of_wire(published[i], ohms / areas[i], joule * areas[i], 0, 90);
        CHECK(std::sqrt(*seconds_to_reach(one, 90, 250)) == Approx(1).epsilon(0.01));
    }
}

TEST_CASE("a hot wire's own resistance can make it run away") {
    const double conductance = 0.3;  // W/K a metre
    // The feedback turns where I^2 R20 0.00393 = G.
    const double turning = std::sqrt(conductance / (0.00393 * ohms));
    CHECK(steady_temperature(heat_of_wire(0.99 * turning, ohms, joule, conductance, 30)));
    const LinearHeat over = heat_of_wire(1.01 * turning, ohms, joule, conductance, 30);
    CHECK_FALSE(steady_temperature(over));
    const auto seconds = seconds_to_reach(over, 30, 1000);
    REQUIRE(seconds);
    CHECK(temperature_after(over, 30, *seconds) == Approx(1000).epsilon(1e-9));
}

TEST_CASE("a wire at its table current stands at its class (row W20)") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, *circuit);
    std::size_t wires = 0;
    for (const Body& body : model.bodies()) {
        if (body.kind != BodyKind::wire) continue;
        ++wires;
        const Wire& wire = circuit->wire(circuit->branch(body.branch).wire);
        const LinearHeat heat =
            heat_of_wire(wire_ampacity(wire.area_mm2), body.ohms_metre, body.capacity, body.still_air, body.ambient);
        // 105 C insulation, 30 C around it (33 CFR 183.425 table E); 50 C where [care] says hot.
        CHECK(body.ambient == (wire.name == "542" ? 50 : 30));
        CHECK(*steady_temperature(heat) - body.ambient == Approx(75).epsilon(0.1));
        if (body.ambient == 30) CHECK(*steady_temperature(heat) == Approx(105).epsilon(1e-6));
    }
    CHECK(wires >= circuit->wires.size());
}

TEST_CASE("nothing healthy is harmed, however long the blower runs") {
    for (const std::string file : {"cab-blower.toml", "rear-blower.toml", "clutch.toml"}) {
        const auto circuit = scenario_circuit(file);
        Simulator& simulator = NgspiceSession::instance();
        const HeatModel model(simulator, *circuit);
        for (const State& state : default_states(*circuit)) {
            INFO(file << " " << state.label);
            const AftermathResult aftermath = run_aftermath(simulator, model, state, {}, 24 * 3600.0);
            REQUIRE(aftermath);
            CHECK(aftermath->events.empty());
        }
    }
}

TEST_CASE("a seized motor on a middle speed overheats the pack and the fuse holds") {
    // The mechanism of two recalls: NHTSA 01V003 and 01V262 (reference parts 1.3).
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Aftermath m2 = followed(*circuit, "m2", "M1 seized", 600);
    const HeatEvent* limiter = event_named(m2, "R1");
    REQUIRE(limiter != nullptr);
    CHECK(limiter->kind == HeatEventKind::limiter_opens);
    CHECK(limiter->seconds < 300);
    CHECK(m2.opened.empty());
    // 2 to 5 times the normal heat with no air (reference parts 2.4: 129 W against 40 W, 221 W against 41 W).
    const BodyHeat& pack = body_named(m2, "R1");
    CHECK(pack.watts > 2 * pack.healthy_watts);
    CHECK(pack.watts < 6 * pack.healthy_watts);
    // The standing armature: 12.5 V / 80 A of copper, and 1 V at the brushes.
    const BranchId winding = circuit->part(circuit->find_part("M1")).load_branch;
    const double amps = std::abs(m2.faulted.point.amps[winding.index]);
    CHECK(body_named(m2, "M1 winding").watts == Approx(amps * amps * 0.15625 + amps).epsilon(1e-6));

    // Behind a fuse of its own size the held motor opens it on high.
    const auto fused = blower_behind("fuse 30A maxi");
    const Aftermath hi = followed(*fused, "hi", "M1 seized", 600);
    REQUIRE_FALSE(hi.events.empty());
    CHECK(hi.events.front().what == "F1 opens");
    REQUIRE((hi.events.front().earliest && hi.events.front().latest));
    CHECK(*hi.events.front().earliest < hi.events.front().seconds);
    CHECK(*hi.events.front().latest > hi.events.front().seconds);
}

TEST_CASE("a dragging motor overheats its pack (common practice: a burnt pack means a look at the motor, no source)") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    int opened = 0;
    for (const std::string state : {"lo", "m1", "m2"}) {
        const Aftermath aftermath = followed(*circuit, state, "M1 drag 1.4", 1800);
        const BodyHeat& pack = body_named(aftermath, "R1");
        CHECK(pack.watts > 1.2 * pack.healthy_watts);
        opened += event_named(aftermath, "R1") != nullptr ? 1 : 0;
    }
    CHECK(opened > 0);
}

TEST_CASE("a fuse in the aftermath opens when its closed form says, and a chafe's comes from cold") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Aftermath aftermath = followed(*circuit, "hi", "542 chafe 20mohm at 60%", 60);
    REQUIRE(aftermath.events.size() == 1);
    const Part& fuse = circuit->part(aftermath.events[0].part);
    const double amps = std::abs(aftermath.faulted.point.amps[fuse.fuse->element.index]);
    CHECK(aftermath.events[0].seconds ==
          Approx(*fuse_opening_seconds(*fuse_type(fuse.fuse->type), fuse.fuse->rating_amps, amps)).epsilon(1e-6));
    REQUIRE(aftermath.after);
    CHECK(aftermath.opened.size() == 1);
}

TEST_CASE("a fuse just fitted opens once on a short, and stays open") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, *circuit);
    State state = state_named(*circuit, "hi");
    const PartId fuse = circuit->find_part("F7");
    state.fitted_new = {fuse};
    const std::vector<PartId> opened{fuse};
    const AftermathResult result =
        run_aftermath(simulator, model, state, faults_named(*circuit, "542 chafe 20mohm at 60%"), 60, opened);
    REQUIRE(result);
    REQUIRE(result->events.size() == 1);
    CHECK(result->events[0].part == fuse);
    CHECK(std::abs(result->end().point.amps[circuit->part(fuse).fuse->element.index]) < 1e-6);
}

TEST_CASE("a bad contact's heat is I2R, and at some size it softens its housing (E7b)") {
    // 0.10 ohm in the feed of a blower at full speed: 15.9 A, 25.3 W for the reference motor; ours draws a little
    // other.
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Aftermath aftermath = followed(*circuit, "hi", "C101.4 resistance 0.1ohm", 1800);
    const BodyHeat& joint = body_named(aftermath, "C101.4");
    const double amps =
        std::abs(aftermath.faulted.point.amps[circuit->wire(circuit->find_wire("542")).first_half.index]);
    CHECK(joint.watts == Approx(amps * amps * 0.102).epsilon(1e-3));
    CHECK(joint.watts == Approx(25.3).epsilon(0.15));
    REQUIRE(event_named(aftermath, "C101.4") != nullptr);
    CHECK_FALSE(event_named(followed(*circuit, "hi", "C101.4 resistance 5mohm", 1800), "C101.4"));
}

TEST_CASE("a breaker that resets closes again when it has cooled, and opens again sooner") {
    std::string text = scenario_text("cab-blower.toml");
    const auto with = [&](const char* line) {
        std::string changed = text;
        const std::string fuse = "F7   = \"fuse 40A maxi, feed 30\"";
        REQUIRE(changed.find(fuse) != std::string::npos);
        changed.replace(changed.find(fuse), fuse.size(), line);
        return read_circuit_text(changed, "breaker.toml");
    };
    const CircuitReading resets = with("F7   = \"breaker 40A resets, feed 30\"");
    REQUIRE(resets.circuit);
    const Aftermath aftermath = followed(*resets.circuit, "hi", "542 chafe 20mohm", 600);
    std::vector<const HeatEvent*> events;
    for (const HeatEvent& event : aftermath.events) {
        if (event.name == "F7") events.push_back(&event);
    }
    REQUIRE(events.size() == 3);
    CHECK(events[0]->kind == HeatEventKind::fuse_opens);
    CHECK(events[1]->kind == HeatEventKind::breaker_closes);
    CHECK(events[2]->kind == HeatEventKind::fuse_opens);
    // One pole: without current u falls as exp(-t / tau), here from 1 to one half.
    const double tau = fuse_model(FuseType::breaker, 40).fast_seconds;
    CHECK(events[1]->seconds - events[0]->seconds == Approx(tau * std::log(2.0)).epsilon(0.02));
    CHECK(events[2]->seconds - events[1]->seconds < events[0]->seconds);

    const CircuitReading manual = with("F7   = \"breaker 40A manual, feed 30\"");
    REQUIRE(manual.circuit);
    const Aftermath stays = followed(*manual.circuit, "hi", "542 chafe 20mohm", 600);
    CHECK(std::count_if(stays.events.begin(), stays.events.end(),
                        [](const HeatEvent& event) { return event.name == "F7"; }) == 1);
}

TEST_CASE("a pack without a limiter in the way chars, and its fuse holds (NHTSA 01V003, 01V262)") {
    const CircuitReading van = read_circuit_file(PROJECT_DIR "/scenarios/held-rotor/bakery-van.toml");
    const CircuitReading bus = read_circuit_file(PROJECT_DIR "/scenarios/held-rotor/minibus-rear.toml");
    REQUIRE((van.circuit && bus.circuit));
    const Aftermath medium = followed(*van.circuit, "med", "M1 seized", 600);
    CHECK(medium.opened.empty());
    REQUIRE(event_named(medium, "R1") != nullptr);
    CHECK(event_named(medium, "R1")->kind == HeatEventKind::harmed);
    CHECK(event_named(medium, "R1")->goes_on);
    // 0.87 ohm with the rotor held: 12.16 A and 128.7 W at 13.5 V straight (parts E7, within the wires' ohms).
    CHECK(event_named(medium, "R1")->watts == Approx(128.7).epsilon(0.1));
    // The limiter opens, the coils of medium-low go past it and burn on.
    const Aftermath low = followed(*bus.circuit, "lo", "M2 seized", 600);
    const Aftermath medium_low = followed(*bus.circuit, "ml", "M2 seized", 600);
    REQUIRE(low.events.size() == 1);
    CHECK(low.events[0].kind == HeatEventKind::limiter_opens);
    REQUIRE(medium_low.events.size() == 2);
    CHECK(medium_low.events[0].kind == HeatEventKind::limiter_opens);
    CHECK(medium_low.events[1].kind == HeatEventKind::harmed);
    CHECK(medium_low.events[1].goes_on);
    CHECK(medium_low.opened.empty());
}

TEST_CASE("a bundle and an insulation class of its own change what a wire bears") {
    const std::string head =
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 30A maxi, feed 30\"\n"
        "L1 = \"resistor 0.5ohm\"\nG1 = \"ground\"\n[wires]\nw2 = \"L1.2 > G1 4mm2 BK 1m\"\nw1 = \"F1.2 > L1.1 2.5mm2 "
        "RD 2m ";
    const auto heat_with = [&](const std::string& words) {
        const CircuitReading reading = read_circuit_text(head + words + "\"\n", "bundle.toml");
        REQUIRE(reading.circuit);
        Simulator& simulator = NgspiceSession::instance();
        const HeatModel model(simulator, *reading.circuit);
        const AftermathResult result =
            run_aftermath(simulator, model, default_states(*reading.circuit).front(), {}, 3600);
        REQUIRE(result);
        return body_named(*result, "w1");
    };
    const BodyHeat alone = heat_with("");
    const BodyHeat bundled = heat_with("bundle 6 FLRY-B");
    const BodyHeat hotter_class = heat_with("125C");
    // Ampacity x 0.60 is 1 / 0.36 of the rise for the same current, and a little more by warmer copper.
    CHECK((bundled.celsius - bundled.ambient) / (alone.celsius - alone.ambient) > 1 / 0.36);
    CHECK(alone.limit == bundled.limit);
    CHECK(hotter_class.limit == alone.limit + 20);
}

TEST_CASE("number 3: a wire in a short warms as copper alone (E8b, W33)") {
    const CircuitReading reading = read_circuit_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nL1 = \"resistor 0.05ohm\"\nG1 = "
        "\"ground\"\n[wires]\nw1 = \"B1+ > L1.1 1.5mm2 RD 2m\"\nw2 = \"L1.2 > G1 6mm2 BK 1m\"\n",
        "short.toml");
    REQUIRE(reading.circuit);
    const HeatModel model(NgspiceSession::instance(), *reading.circuit);
    const auto wire =
        std::find_if(model.bodies().begin(), model.bodies().end(), [](const Body& b) { return b.name == "w1"; });
    REQUIRE(wire != model.bodies().end());
    // 1.5 mm2, 150 A, 70 to 160 C: 1.3225 s.
    CHECK(*wire_seconds_to_reach(*wire, 150, 70, 160) == Approx(1.3225).epsilon(0.003));
    CHECK(wire_temperature_after(*wire, 150, 70, 1.3225) == Approx(160).epsilon(0.003));
    // k 103.8 from 85 to 160 C (W33).
    CHECK(std::sqrt(*wire_seconds_to_reach(*wire, 100, 85, 160)) * 100 / 1.5 == Approx(103.8).epsilon(0.003));
    // In a circuit too, from 30 to 155 C; its ohms rise, and the current falls: by small steps.
    const AftermathResult result =
        run_aftermath(NgspiceSession::instance(), model, default_states(*reading.circuit).front(), {}, 600);
    REQUIRE(result);
    const HeatEvent* harmed = event_named(*result, "w1");
    REQUIRE(harmed != nullptr);
    REQUIRE(harmed->amps > 80);
    const double cold = std::abs(result->faulted.point.amps[wire->branch.index]);
    const double rest = 12.6 / cold - 2 * 12.7e-3;
    double celsius = 30;
    double seconds = 0;
    for (; celsius < 155; seconds += 1e-4) {
        const double amps = 12.6 / (rest + 2 * 12.7e-3 * (1 + 0.00393 * (celsius - 20)));
        celsius += 1e-4 * amps * amps * 1.7241e-2 / 1.5 * (1 + 0.00393 * (celsius - 20)) / (3.45 * 1.5);
    }
    CHECK(harmed->seconds == Approx(seconds).epsilon(0.02));
    // Long after, the insulation takes part and the air carries off: the table's current still ends at 105 C.
    CHECK(wire_temperature_after(*wire, wire_ampacity(1.5), 30, 36000) == Approx(105).epsilon(0.01));
}

namespace {

/// A held winding by small steps: 13.2 V of a charging battery less the brushes, over the ohms of its way and its own,
/// which are 12.5 / 80 ohm at 25 C and rise by 0.393 %/K of 20 C.
struct HeldWinding {
    double way_ohms{};
    double capacity{};
    double conductance{};  ///< of standing air
    double celsius{40};

    double ohms() const { return 0.15625 * (1 + 0.00393 * (celsius - 20)) / (1 + 0.00393 * 5); }
    double amps() const { return 13.2 / (way_ohms + ohms()); }
    void step(double seconds, bool closed = true) {
        const double now = closed ? amps() : 0;
        celsius += seconds * (now * now * ohms() + now - conductance * (celsius - 40)) / capacity;
    }
};

HeldWinding held_winding(const Circuit& circuit, const Aftermath& aftermath) {
    const HeatModel model(NgspiceSession::instance(), circuit);
    const Body& body = model_body(model, "M1 winding");
    const double cold = std::abs(aftermath.faulted.point.amps[body.branch.index]);
    return {13.2 / cold - 0.15625, body.capacity, body.still_air};
}

}  // namespace

TEST_CASE("number 2: a held winding gains ohms as it warms, and its current falls (own steps of 5 ms)") {
    const auto bare = blower_behind("");
    const Aftermath burns = followed(*bare, "hi", "M1 seized", 1800);
    HeldWinding winding = held_winding(*bare, burns);
    double seconds = 0;
    for (; winding.celsius < 155; seconds += 0.005) winding.step(0.005);
    const HeatEvent* harmed = event_named(burns, "M1 winding");
    REQUIRE(harmed != nullptr);
    CHECK(harmed->seconds == Approx(seconds).epsilon(0.02));
    CHECK(harmed->amps == Approx(winding.amps()).epsilon(0.02));
    for (; seconds < 1800; seconds += 0.005) winding.step(0.005);
    CHECK(body_named(burns, "M1 winding").celsius - 40 == Approx(winding.celsius - 40).epsilon(0.02));

    // Behind a fuse the falling current opens it later than the cold one would, or not at all.
    for (const char* rating : {"25A", "30A", "35A", "40A"}) {
        const auto fused = blower_behind(std::string("fuse ") + rating + " maxi");
        const Aftermath opens = followed(*fused, "hi", "M1 seized", 1800);
        HeldWinding behind = held_winding(*fused, opens);
        const FuseModel fuse = fuse_model(FuseType::maxi, std::stod(rating));
        FuseHeat heat;
        double at = 0;
        for (; at < 1800 && heat.total() < 1; at += 0.005) {
            heat = heat_after(fuse, heat, behind.amps(), 0.005);
            behind.step(0.005);
        }
        INFO(rating);
        const HeatEvent* event = event_named(opens, "F1");
        REQUIRE((event != nullptr) == (at < 1800));
        if (event) CHECK(event->seconds == Approx(at).epsilon(0.02));
    }
}

TEST_CASE("number 2: a held rotor on high is a knife edge, and told as one") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    // On 40 A the usual fuse holds the falling current while the winding burns, a quick one does not.
    const Aftermath hi = followed(*circuit, "hi", "M1 seized", 1800);
    REQUIRE_FALSE(hi.events.empty());
    INFO(hi.events.front().what << " after " << hi.events.front().seconds << ", " << hi.events.front().otherwise);
    CHECK(hi.events.front().what.starts_with("M1 winding reaches 155 C"));
    CHECK(hi.events.front().otherwise.starts_with("unless F7 opens before: a quick one of its type does after "));
    // On 35 A it is the other way round: the usual one opens, a slow one holds.
    const auto smaller = blower_behind("fuse 35A maxi");
    const Aftermath opens = followed(*smaller, "hi", "M1 seized", 1800);
    REQUIRE_FALSE(opens.events.empty());
    INFO(opens.events.front().what << " after " << opens.events.front().seconds << ", "
                                   << opens.events.front().otherwise);
    CHECK(opens.events.front().what == "F1 opens");
    // A short opens any fuse of the type before anything is harmed: no edge.
    const Aftermath chafed = followed(*circuit, "hi", "541 chafe 5mohm", 600);
    REQUIRE_FALSE(chafed.events.empty());
    CHECK(chafed.events.front().otherwise.empty());
}

TEST_CASE("number 4: a pack is cooled by the air that flows, not by the speed of its fan") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const HeatModel model(NgspiceSession::instance(), *circuit);
    const Body& pack = model_body(model, "R1");
    const auto kelvin_per_watt = [&](const std::string& fault) {
        const Settled settled =
            *settle(NgspiceSession::instance(), *circuit, state_named(*circuit, "m2"), faults_named(*circuit, fault));
        return (*steady_temperature(model.heat(pack, settled)) - pack.ambient) / model.watts(pack, settled);
    };
    const double open = kelvin_per_watt("M1 blocked-air 0.95");
    // The fan turns faster with its air blocked, and yet less air flows: more kelvin a watt, at last those of still
    // air.
    CHECK(kelvin_per_watt("M1 blocked-air 0.6") > 1.2 * open);
    CHECK(kelvin_per_watt("M1 blocked-air 0.3") == Approx(1 / pack.still_air).epsilon(1e-6));
    CHECK(kelvin_per_watt("M1 fouled 1.6") > 1.1 * open);
    // Lost airflow trips the limiter (reference parts 2.3, S27), by small steps at the watts of that state.
    int opened = 0;
    for (const std::string state : {"lo", "m1", "m2"}) {
        const Aftermath blocked = followed(*circuit, state, "M1 blocked-air 0.3", 1800);
        const double watts = body_named(blocked, "R1").watts;
        double celsius = pack.ambient;
        double seconds = 0;
        for (; seconds < 1800 && celsius < 121; seconds += 0.05)
            celsius += 0.05 * (watts - pack.still_air * (celsius - pack.ambient)) / pack.capacity;
        const HeatEvent* limiter = event_named(blocked, "R1");
        INFO(state << ": " << watts << " W, by small steps " << celsius << " C after " << seconds);
        REQUIRE((limiter != nullptr) == (seconds < 1800));
        if (!limiter) continue;
        ++opened;
        CHECK(limiter->seconds == Approx(seconds).epsilon(0.02));
    }
    CHECK(opened > 0);
}

TEST_CASE("number 9: a held motor behind a breaker that resets is heated by the cycles (own steps of 2 ms)") {
    const auto circuit = blower_behind("breaker 25A resets");
    const Aftermath cycles = followed(*circuit, "hi", "M1 seized", 1800);
    const HeatEvent* harmed = event_named(cycles, "M1 winding");
    REQUIRE(harmed != nullptr);
    REQUIRE(harmed->cycling);
    // One pole: 30 A opens it, 10 s; it closes at half of its heat.
    HeldWinding winding = held_winding(*circuit, cycles);
    double heat = 0;
    bool closed = true;
    double on = 0;
    double cycles_from = 0;
    double seconds = 0;
    for (; seconds < 1800 && winding.celsius < 155; seconds += 0.002) {
        if (winding.celsius < 130) on = cycles_from = 0;
        if (winding.celsius >= 130 && cycles_from == 0) cycles_from = seconds;

        const double ratio = closed ? winding.amps() / 30 * winding.amps() / 30 : 0;
        heat += 0.002 * (ratio - heat) / 10;
        winding.step(0.002, closed);
        on += closed ? 0.002 : 0;
        if (closed && heat >= 1) closed = false;
        if (!closed && heat <= 0.5) closed = true;
    }
    CHECK(harmed->seconds == Approx(seconds).epsilon(0.04));  // within half a cycle
    CHECK(*harmed->cycling > 0.05);
    CHECK(*harmed->cycling < 0.5);
    // Towards the end, over the last 25 K: whole cycles within a fifth.
    CHECK(*harmed->cycling == Approx(on / (seconds - cycles_from)).epsilon(0.2));
}
