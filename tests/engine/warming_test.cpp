// How bodies warm: closed forms, published values, and windings, wires and packs by small steps.
#include <cmath>

#include "engine/heat/wire_heat.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/wires.hpp"
#include "tests/support/aftermaths.hpp"

using namespace voltfall;

namespace {

/// Copper per metre of 1 mm2: heat capacity of IEC 60949, J/K, and ohms.
constexpr double joule = 3.45;
const double ohms = copper_ohm_per_metre(1);

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

TEST_CASE("a wire in a short warms as copper alone (E8b, W33)") {
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

TEST_CASE("a held winding gains ohms as it warms, and its current falls (own steps of 5 ms)") {
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

TEST_CASE("a bad joint gains ohms as it warms, two thirds of what its metal does (Holm's form, own steps of 10 ms)") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Aftermath burns = followed(*circuit, "hi", "C101.4 resistance 20mohm", 1800);
    const HeatModel model(NgspiceSession::instance(), *circuit);
    const Body& joint = model_body(model, "C101.4");
    const HeatEvent* softens = event_named(burns, "C101.4");
    REQUIRE(softens != nullptr);
    const double cold_watts = softens->watts;  // at 20 C
    const auto seconds_with = [&](double per_kelvin) {
        double celsius = joint.ambient;
        double seconds = 0;
        for (; seconds < 1800 && celsius < joint.limit; seconds += 0.01) {
            const double watts = cold_watts * (1 + per_kelvin * (celsius - 20));
            celsius += 0.01 * (watts - joint.still_air * (celsius - joint.ambient)) / joint.capacity;
        }
        return seconds;
    };
    CHECK(softens->seconds == Approx(seconds_with(2.0 / 3 * 0.00393)).epsilon(0.02));
    // The rise of its ohms shows: without it the joint would take longer.
    CHECK(softens->seconds < 0.95 * seconds_with(0));
}

TEST_CASE("a clutch coil gains ohms as it warms, and its current falls (E13, S60; own steps of 50 ms)") {
    // The published 24 V coil: 17.6 ohm at 20 C, 5.5 ohm more are allowed for its heat, which is 80 K of copper.
    CHECK(17.6 * (copper_temperature_factor(100) - 1) == Approx(5.5).epsilon(0.01));
    const auto circuit = read_text(
        "format = 1\nsupply = \"24V\"\n[parts]\nB1 = \"battery 25.2V 8mohm, charging 28V\"\nF1 = \"fuse 5A mini, feed "
        "30\"\nA1 = \"clutch 17.6ohm, pulls 15V\"\nG1 = \"ground\"\n[wires]\nw1 = \"F1.2 > A1.1 1.5mm2 RD 1m\"\nw2 = "
        "\"A1.2 > G1 1.5mm2 BK 1m\"\n");
    const double duration = 1800;
    const State on = default_states(*circuit).front();
    const HeatModel model(NgspiceSession::instance(), *circuit);
    const AftermathResult warm = run_aftermath(NgspiceSession::instance(), model, on, {}, duration);
    REQUIRE(warm);
    const Body& coil = model_body(model, "A1 coil");
    const double cold_amps = std::abs(warm->faulted.point.amps[coil.branch.index]);
    const double volts = cold_amps * 17.6;  // its way has some 30 mohm: the volts stay within 0.2 %
    double celsius = coil.ambient;
    double ohms = 17.6;
    for (double seconds = 0; seconds < duration; seconds += 0.05) {
        ohms = 17.6 * copper_temperature_factor(celsius) / copper_temperature_factor(25);
        celsius += 0.05 * (volts * volts / ohms - coil.still_air * (celsius - coil.ambient)) / coil.capacity;
    }
    const BodyHeat& found = body_named(*warm, "A1 coil");
    CHECK(found.celsius - coil.ambient == Approx(celsius - coil.ambient).epsilon(0.02));
    CHECK(ohms > 17.6 + 4.5);
    // With its cold current it would end a good deal hotter.
    const double cold_rise =
        volts * volts / 17.6 / coil.still_air * (1 - std::exp(-duration * coil.still_air / coil.capacity));
    CHECK(found.celsius - coil.ambient < 0.9 * cold_rise);
}

TEST_CASE("a pack is cooled by the air that flows, not by the speed of its fan") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const HeatModel model(NgspiceSession::instance(), *circuit);
    const Body& pack = model_body(model, "R1");
    const auto kelvin_per_watt = [&](const std::string& fault) {
        const Settled settled =
            *settle(NgspiceSession::instance(), *circuit, state_named(*circuit, "mh"), faults_named(*circuit, fault));
        return (*steady_temperature(model.heat(pack, settled)) - pack.ambient) / model.watts(pack, settled);
    };
    const double open = kelvin_per_watt("M1 blocked-air 0.95");
    // The fan turns faster with its air blocked, and yet less air flows: more kelvin a watt, at last those of still
    // air.
    CHECK(kelvin_per_watt("M1 blocked-air 0.6") > 1.2 * open);
    CHECK(kelvin_per_watt("M1 blocked-air 0.3") == Approx(1 / pack.still_air).epsilon(1e-6));
    CHECK(kelvin_per_watt("M1 fouled 1.6") > 1.1 * open);
    // In moving air too: two minutes from cold, by small steps, with the flow that speed and wheel leave.
    for (const auto& [fault, share] : {std::pair{"M1 fouled 1.6", 1 / 1.6}, std::pair{"M1 resistance 5mohm", 1.0}}) {
        const Aftermath warms = followed(*circuit, "mh", fault, 120);
        REQUIRE(warms.events.empty());
        const double speed = std::abs(warms.faulted.point.speed[pack.fan.index]) / pack.rated_speed;
        const double flow = std::pow(share * speed, default_value("airflow_exponent"));
        CHECK(flow > 0.3);
        double celsius = pack.ambient;
        for (int step = 0; step < 12000; ++step) {
            const double lost = (pack.still_air + pack.full_air * flow) * (celsius - pack.ambient);
            celsius += 0.01 * (body_named(warms, "R1").watts - lost) / pack.capacity;
        }
        INFO(fault);
        CHECK(body_named(warms, "R1").celsius - pack.ambient == Approx(celsius - pack.ambient).epsilon(0.02));
    }
    // Lost airflow trips the limiter (reference parts 2.3, S27), by small steps at the watts of that state.
    int opened = 0;
    for (const std::string state : {"lo", "ml", "mh"}) {
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
