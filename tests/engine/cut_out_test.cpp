// A brushless fan unit that warms by its own current, cuts out when it is too hot and runs again when it has cooled.
#include <cmath>

#include "engine/heat/protection.hpp"
#include "tests/support/aftermaths.hpp"

using namespace voltfall;

namespace {

/// A unit of 25 A behind its panel; `heat`: lines of [heat].
std::shared_ptr<const Circuit> unit_with(const std::string& options, const std::string& heat = "") {
    return read_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 40A maxi, feed 30\"\n"
        "M1 = \"fan-unit 25A @13.5V, 3800rpm, least 2A, command 10%-90%, open command off" +
        options +
        "\"\nG1 = \"ground\"\nH1 = \"head OUT: off=0% lo=30% hi=90%\"\n[wires]\n"
        "10 = \"F1.2 > M1.+ 6mm2 RD 1m\"\n11 = \"M1.- > G1 6mm2 BK 0.5m\"\n"
        "20 = \"F1.2 > H1.+ 1mm2 RD 1m\"\n21 = \"H1.OUT > M1.CMD 1mm2 GN 1m\"\n22 = \"H1.- > G1 1mm2 BK 0.3m\"\n" +
        (heat.empty() ? "" : "[heat]\n" + heat));
}

Aftermath two_hours(const Circuit& circuit, const std::string& fault) {
    if (!fault.empty()) return followed(circuit, "hi", fault, 7200);
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, circuit);
    AftermathResult result = run_aftermath(simulator, model, state_named(circuit, "hi"), {}, 7200);
    REQUIRE(result);
    return *std::move(result);
}

std::vector<std::string> words_of(const Aftermath& aftermath) {
    std::vector<std::string> words;
    for (const HeatEvent& event : aftermath.events) words.push_back(event.what);
    return words;
}

double winding_amps(const Circuit& circuit, const Settled& settled) {
    return std::abs(settled.point.amps[circuit.part(circuit.find_part("M1")).load_branch.index]);
}

using Words = std::vector<std::string>;

/// 13.5 V over four times 25 A: the nameplate's winding. At 25 A it stands 60 K over its air with 300 s, and standing
/// air carries off three tenths (the defaults, all ASSUMED).
constexpr double winding_ohms = 13.5 / 100;
constexpr double full_air = 25 * 25 * winding_ohms / 60;
constexpr double still_air = 0.3 * full_air;
constexpr double capacity = 300 * full_air;

}  // namespace

TEST_CASE("a sound fan unit never cuts out, one that drags does and runs again, over and over") {
    const auto circuit = unit_with("");
    CHECK(two_hours(*circuit, "").events.empty());
    const Aftermath drags = two_hours(*circuit, "M1 drag 1.6");
    CHECK(words_of(drags) == Words{"M1 cuts out at 130 C", "M1 has cooled and runs again",
                                   "M1 cuts out again, and so on for as long as it is on"});
    CHECK(drags.events[0].kind == HeatEventKind::cuts_out);
    CHECK(drags.events[1].kind == HeatEventKind::runs_again);
    CHECK(drags.opened.empty());
    // What is left is a unit that draws nothing.
    REQUIRE(drags.after);
    CHECK(winding_amps(*circuit, drags.faulted) > 1.3 * 25);
    CHECK(winding_amps(*circuit, *drags.after) < 0.1);
    CHECK(body_named(drags, "M1 winding").hottest == Approx(130).margin(0.1));
    CHECK(body_named(drags, "M1 winding").celsius == Approx(110).margin(0.1));
    // It cools from 130 C to 110 C in standing air of 40 C by its one thermal pole.
    const double cools = capacity / still_air * std::log((130.0 - 40) / (110.0 - 40));
    CHECK(drags.events[1].seconds - drags.events[0].seconds == Approx(cools).epsilon(1e-3));
    // From 110 C it is back at 130 C sooner than from cold.
    CHECK(drags.events[2].seconds - drags.events[1].seconds < 0.5 * drags.events[0].seconds);
}

TEST_CASE("a held fan unit that tries again is kept cool by its pauses, but not in hot air") {
    const Aftermath cool = two_hours(*unit_with(""), "M1 seized");
    CHECK(cool.events.empty());
    const auto hot_circuit = unit_with("", "ambient-air = \"60C\"\n");
    const Aftermath hot = two_hours(*hot_circuit, "M1 seized");
    REQUIRE(hot.events.size() == 3);
    CHECK(hot.events[0].what == "M1 cuts out at 130 C");
    // Its tries are a tenth of the rated current on the mean (ASSUMED): all of that power is heat, in standing air.
    const double amps = winding_amps(*hot_circuit, hot.faulted);
    const double watts = amps * amps * 13.5 / 2.5;
    const double seconds = -capacity / still_air * std::log(1 - (130 - 60) * still_air / watts);
    CHECK(hot.events[0].seconds == Approx(seconds).epsilon(0.02));
    CHECK(hot.opened.empty());
}

TEST_CASE("blocked air makes a fan unit in hot surroundings cut out, one at a lower temperature sooner") {
    const auto behind_a_radiator = [](const std::string& options) {
        return two_hours(*unit_with(options, "ambient-air = \"100C\"\n"), "M1 blocked-air 0.5");
    };
    const Aftermath usual = behind_a_radiator("");
    REQUIRE_FALSE(usual.events.empty());
    CHECK(usual.events[0].what == "M1 cuts out at 130 C");
    const Aftermath lower = behind_a_radiator(", cuts 120C");
    REQUIRE_FALSE(lower.events.empty());
    CHECK(lower.events[0].what == "M1 cuts out at 120 C");
    CHECK(lower.events[0].seconds < usual.events[0].seconds);
    // One that would act only above what its winding bears does not save it.
    const Aftermath late = two_hours(*unit_with(", cuts 200C"), "M1 drag 1.6");
    REQUIRE_FALSE(late.events.empty());
    CHECK(late.events[0].what == "M1 winding reaches 155 C: its insulation is harmed, before it cuts out at 200 C");
}

TEST_CASE("what protects itself by cutting out is no gap of the protection") {
    const auto circuit = unit_with("");
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, *circuit);
    const ProtectionResult protection = judge_protection(simulator, model, default_states(*circuit));
    REQUIRE(protection);
    for (const ProtectionGap& gap : protection->gaps) {
        INFO(gap.fault << ": " << gap.what);
        CHECK(gap.kind != BodyKind::winding);
    }
}
