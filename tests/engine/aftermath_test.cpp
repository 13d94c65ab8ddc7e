// What a case becomes with time: what opens, what is harmed, what goes on.
#include <cmath>

#include "netlists/tables/defaults.hpp"
#include "netlists/tables/wires.hpp"
#include "tests/support/aftermaths.hpp"

using namespace voltfall;

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
    const Aftermath medium = followed(*circuit, "mh", "M1 seized", 600);
    const HeatEvent* limiter = event_named(medium, "R1");
    REQUIRE(limiter != nullptr);
    CHECK(limiter->kind == HeatEventKind::limiter_opens);
    CHECK(limiter->seconds < 300);
    CHECK(medium.opened.empty());
    // 2 to 5 times the normal heat with no air (reference parts 2.4: 129 W against 40 W, 221 W against 41 W).
    const BodyHeat& pack = body_named(medium, "R1");
    CHECK(pack.watts > 2 * pack.healthy_watts);
    CHECK(pack.watts < 6 * pack.healthy_watts);
    // The standing armature: 12.5 V / 80 A of copper, and 1 V at the brushes.
    const BranchId winding = circuit->part(circuit->find_part("M1")).load_branch;
    const double amps = std::abs(medium.faulted.point.amps[winding.index]);
    CHECK(body_named(medium, "M1 winding").watts == Approx(amps * amps * 0.15625 + amps).epsilon(1e-6));

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
    for (const std::string state : {"lo", "ml", "mh"}) {
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

TEST_CASE("a held rotor on high is a knife edge, and told as one") {
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
    // Behind the rear blower's fuse a motor that drags opens the usual one and not a slow one.
    const auto rear = scenario_circuit("rear-blower.toml");
    const Aftermath drags = followed(*rear, "hi", "M2 drag 2.33", 1800);
    REQUIRE_FALSE(drags.events.empty());
    INFO(drags.events.front().what << " after " << drags.events.front().seconds << ", "
                                   << drags.events.front().otherwise);
    CHECK(drags.events.front().what == "F9 opens");
    CHECK(drags.events.front().otherwise.starts_with("or not at all; if it does not, M2 winding reaches 155 C"));
    // A short opens any fuse of the type before anything is harmed: no edge.
    const Aftermath chafed = followed(*circuit, "hi", "541 chafe 5mohm", 600);
    REQUIRE_FALSE(chafed.events.empty());
    CHECK(chafed.events.front().otherwise.empty());
}

TEST_CASE("a held motor behind a breaker that resets is heated by the cycles (own steps of 2 ms)") {
    for (const int rating : {20, 25, 30}) {
        const auto circuit = blower_behind("breaker " + std::to_string(rating) + "A resets");
        const Aftermath cycles = followed(*circuit, "hi", "M1 seized", 1800);
        const HeatEvent* harmed = event_named(cycles, "M1 winding");
        INFO(rating << " A");
        REQUIRE(harmed != nullptr);
        REQUIRE(harmed->cycling);
        // One pole of 10 s: 1.2 times its rating opens it in the end; it closes at half of its heat.
        HeldWinding winding = held_winding(*circuit, cycles);
        double heat = 0;
        bool closed = true;
        double on = 0;
        double cycles_from = 0;
        double seconds = 0;
        for (; seconds < 1800 && winding.celsius < 155; seconds += 0.002) {
            if (winding.celsius < 130) on = cycles_from = 0;
            if (winding.celsius >= 130 && cycles_from == 0) cycles_from = seconds;
            const double share = winding.amps() / (1.2 * rating);
            heat += 0.002 * ((closed ? share * share : 0) - heat) / 10;
            winding.step(0.002, closed);
            on += closed ? 0.002 : 0;
            if (closed && heat >= 1) closed = false;
            if (!closed && heat <= 0.5) closed = true;
        }
        CHECK(harmed->seconds == Approx(seconds).epsilon(0.02));
        CHECK(*harmed->cycling > 0.05);
        CHECK(*harmed->cycling < 0.5);
        // Towards the end, over the last 25 K: whole cycles within a fifth.
        CHECK(*harmed->cycling == Approx(on / (seconds - cycles_from)).epsilon(0.2));
    }
}
