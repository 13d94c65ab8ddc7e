// Lines of parts as few people write them: a colon apart, terminals in capitals, a link by its area; and what is said
// of those that lack a word.
#include <string>
#include <vector>

#include "tests/netlists/circuit_texts.hpp"

using namespace voltfall;

namespace {

std::string with_line(const std::string& line) {
    return small("M1 = \"motor 20A\"\nX = \"" + line + "\"", "1 = \"F7.2 > M1.1 6mm2 1m\"\n2 = \"M1.2 > 31 6mm2 1m\"");
}

const Part& part_x(const std::string& line, std::shared_ptr<const Circuit>& kept) {
    INFO(line);
    kept = read_good(with_line(line));
    return kept->part(kept->find_part("X"));
}

std::string positions_of(const Part& part) {
    std::string all = part.common + ":";
    for (const Position& position : part.positions) {
        all += " " + position.name;
        for (std::size_t i = 0; i < position.contacts.size(); ++i) all += (i == 0 ? "=" : "+") + position.contacts[i];
    }
    return all;
}

}  // namespace

TEST_CASE("positions are read whichever way the common and the colon stand") {
    const std::pair<const char*, const char*> rows[]{
        {"switch C: off lo=1 hi=2", "C: off lo=1 hi=2"},
        {"switch C : off lo=1 hi=2", "C: off lo=1 hi=2"},
        {"switch C: off lo = 1 hi= 2", "C: off lo=1 hi=2"},
        {"switch C: off lo=1 hi=2+3, on the column", "C: off lo=1 hi=2+3"},
        {"key : off acc=75 on=75+15", "30: off acc=75 on=75+15"},
        {"key 30: off on=15", "30: off on=15"},
        {"key: off on=15", "30: off on=15"},
        {"head : off=0V lo=2V hi=4V", "OUT: off=off lo=lo hi=hi"},
    };
    for (const auto& [line, meant] : rows) {
        std::shared_ptr<const Circuit> kept;
        const std::string found = positions_of(part_x(line, kept));
        INFO(line << " -> " << found);
        if (std::string(line).starts_with("head"))
            CHECK(found.starts_with("OUT:"));
        else
            CHECK(found == meant);
    }
}

TEST_CASE("a switch says what it lacks") {
    struct Row {
        std::string line;
        std::string under;
        std::string message;
        std::string advice;
    };
    std::string many = "switch C: off";
    for (int i = 1; i <= 60; ++i) many += " p" + std::to_string(i) + "=" + std::to_string(i);
    const Row rows[]{
        {"switch off lo=1", "off", "must name its common terminal", "switch C: off lo=1"},
        {many, "p60=60", "has more than 60 positions", "switches of their own"},
        {"switch C: off lo", "", "closes no contact in any position", "'='"},
        {"switch C: lo=1", "", "needs at least two positions", "switch C:"},
        {"module, side up", "up", "'side up' is neither high nor low", "side low"},
        {"module pwm, pulls sideways", "sideways", "'pulls sideways' is neither up nor down", "pulls up"},
        {"module pwm, side", "side", "has nothing behind it", "side low"},
        {"pack 1 1.2ohm 2, limiter 121C at", "at", "no tap stands behind 'at'", "limiter 121C at 2"},
        {"pack 1 1.2ohm 2, limiter 121C at 9", "9", "'9' is not a tap", "limiter 121C at 2"},
        {"fuse 10A mini, feed", "feed", "must be 30 (always live) or 15", "feed 30"},
        {"fuse 10A mini, feed 87", "87", "not '87'", "feed 30"},
    };
    for (const Row& row : rows) {
        INFO(row.line.substr(0, 60));
        const CircuitReading reading = read_circuit_text(with_line(row.line), "x.toml");
        CHECK_FALSE(reading.circuit);
        const auto& list = reading.problems.list();
        const auto found = std::find_if(list.begin(), list.end(), [&](const Problem& problem) {
            return problem.message.find(row.message) != std::string::npos;
        });
        show(reading.problems);
        REQUIRE(found != list.end());
        CHECK(found->suggestion.find(row.advice) != std::string::npos);
        const std::string under = found->place.text.str().substr(static_cast<std::size_t>(found->place.column - 1),
                                                                 static_cast<std::size_t>(found->place.length));
        if (!row.under.empty()) CHECK(under == row.under);
    }
}

TEST_CASE("a link is known by its gauge or by its area") {
    std::shared_ptr<const Circuit> gauge_kept;
    std::shared_ptr<const Circuit> area_kept;
    const Part& gauge = part_x("link 16AWG 0.2m", gauge_kept);
    const Part& area = part_x("link 1.31mm2 0.2m", area_kept);
    REQUIRE(gauge.parameter("gauge"));
    CHECK(area.value("area") == Approx(1.31));
    CHECK_THROWS_AS(area.value("gauge"), std::logic_error);
    // 16 AWG is 1.31 mm2 (ASTM B258); a metric area is a nominal one.
    REQUIRE((gauge.fuse && area.fuse));
    CHECK(gauge.fuse->rating_amps == Approx(area.fuse->rating_amps).epsilon(0.06));
}

TEST_CASE("terminals are known by their name in any case, by a position printed as off, and by another name") {
    const auto circuit =
        read_good(small("S1 = \"switch com: aus lo=a hi=b\"\nL1 = \"lamp 5W\"\nM1 = \"motor 20A\"",
                        "1 = \"F7.2 > S1.COM 6mm2 1m\"\n3 = \"S1.A > L1.1 1mm2 1m\"\n4 = \"L1.2 > 31 1mm2 "
                        "1m\"\n5 = \"F7.2 > M1.1 6mm2 1m\"\n2 = \"M1.2 > 31 6mm2 1m\""));
    const Part& control = circuit->part(circuit->find_part("S1"));
    CHECK(control.pins.count("com") == 1);
    CHECK(control.pins.count("a") == 1);
    CHECK(control.position_named("off") == std::optional<std::size_t>(0));
    CHECK(circuit->find_joint("s1.a").valid());
    CHECK_FALSE(circuit->find_joint("S1.z").valid());
}

TEST_CASE("what opens a place is the quickest of the strips that do; bare metal is open") {
    const auto circuit = read_good(small("L1 = \"lamp 5W\"\nG1 = \"ground\"\nM1 = \"motor 20A\"",
                                         "1 = \"F7.2 > L1.1 1mm2 1m\"\n2 = \"L1.2 > G1 1mm2 1m\"\n3 = \"F7.2 > M1.1 "
                                         "6mm2 1m\"\n4 = \"M1.2 > 31 6mm2 1m\"",
                                         "[strip]\ndash = \"30min: L1 M1\"\nhatch = \"5min: L1\"\n"));
    const Circuit::Reach lamp = circuit->reach_of("L1");
    CHECK(lamp.known);
    CHECK(lamp.minutes == 5);
    CHECK(lamp.strip == "hatch");
    CHECK(circuit->reach_of("M1").minutes == 30);
    CHECK_FALSE(circuit->reach_of("F7").known);
}
