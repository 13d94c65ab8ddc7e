// Answers that tell of a load in several positions, and switches whose positions have short names.
#include "netlists/phrases/position_answers.hpp"

#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/several_readings.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// A 24 V heater blower whose switch is marked as many are: 0, I, II, III.
const Circuit& heater() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
supply = "24V"
[parts]
B1 = "battery 24.6V 10mohm, charging 28V"
F9 = "fuse 20A regular, feed 15"
S7 = "switch C: 0 I=1 II=2 III=3"
R4 = "pack 1 2.4ohm 2 1.1ohm 3, limiter 130C"
M3 = "motor 9A @27V"
G12 = "ground rear bulkhead"
[wires]
201 = "F9.2 > S7.C 2.5mm2 RD 4m"
202 = "S7.1 > R4.1 1.5mm2 WH 0.6m"
203 = "S7.2 > R4.2 1.5mm2 YE 0.6m"
204 = "S7.3 > M3.1 2.5mm2 BU 2m"
205 = "R4.3 > M3.1 1.5mm2 BU 0.4m"
206 = "M3.2 > G12 2.5mm2 BN 0.8m"
[controls]
S7 = "blower"
)");
    return *circuit;
}

std::string joined_with(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += (text.empty() ? "" : "; ") + line;
    return text;
}

std::string answered(const std::string& line) {
    Problems problems;
    const auto test = read_test_phrase(TypedText::argument("test", "I, II, III  blower"), heater(), problems);
    REQUIRE(test);
    REQUIRE(asks_of_positions(*test));
    return joined_with(readings_of_answer(heater(), *test, line));
}

}  // namespace

TEST_CASE("what a person says of several positions is a reading for each word") {
    const std::string dead_dead_normal = "I, II  blower  dead; III  blower  normal";
    for (const char* line : {"I dead, II dead, III normal", "I and II dead, III normal",
                             "dead on I and II, normal on III", "dead dead normal", "III normal, the rest dead",
                             "I: dead; II: dead; III: normal", "all but III dead, III normal"}) {
        INFO(line);
        CHECK(answered(line) == dead_dead_normal);
    }
    CHECK(answered("only III runs") == "I, II  blower  dead; III  blower  runs");
    CHECK(answered("only I is dead") == "I  blower  dead; II, III  blower  normal");
    CHECK(answered("dead") == "I, II, III  blower  dead");
    CHECK(answered("all dead") == "I, II, III  blower  dead");
    for (const char* line : {"all except III dead, III normal", "III normal, all but III dead",
                             "I dead, II dead, III normal, the rest normal", "fan dead on I and II, normal on III"}) {
        INFO(line);
        CHECK(answered(line) == dead_dead_normal);
    }
    CHECK(answered("just III runs") == "I, II  blower  dead; III  blower  runs");
    CHECK(answered("only I, II and III run") == "I, II, III  blower  run");
    CHECK(answered("only III hums") == "I, II  blower  dead; III  blower  hums");
    CHECK(answered("I dead but II normal") == "I  blower  dead; II  blower  normal");
    // Nobody counts down from III to I, and two words of one position, or of none, are no answer.
    for (const char* line : {"III-I dead", "only I slow, II fast", "only dead dead normal", "dead, slow", "except III",
                             "only III purple"}) {
        INFO(line);
        CHECK(answered(line).empty());
    }
    // What is not told of stays open.
    CHECK(answered("I and II slow") == "I, II  blower  slow");
    // A whole reading is kept as it is, and what is none is none.
    CHECK(answered("F9.2 to B1- 27.1V") == "F9.2 to B1- 27.1V");
    CHECK(answered("I purple, II dead").empty());
    CHECK(answered("II").empty());
}

TEST_CASE("a sentence that tells of every position is kept as so many readings, without a test before it") {
    const auto kept = [](const std::string& line) { return joined_with(readings_in_line(line, heater())); };
    CHECK(kept("only III works") == "I, II M3 dead; III M3 normal");
    CHECK(kept("I dead, II dead, III normal") == "I, II  M3  dead; III  M3  normal");
    CHECK(kept("blower ok in III, dead in I and II") == "I, II  M3  dead; III  M3  ok");
    CHECK(kept("all fuses good") == "fuse F9 good");
}

TEST_CASE("a position called I is no word that says nothing, and 0 is off") {
    CHECK(in_reading_order("dead on I and II", heater()) == "on I and II M3 dead");
    CHECK(in_reading_order("M3 dead on I", heater()) == "on I M3 dead");
    CHECK(in_reading_order("i get 27.1V at F9.2 on II", heater()) == "on II F9.2 27.1V");
    const Part& control = heater().part(heater().find_part("S7"));
    CHECK(control.position_named("off") == std::optional<std::size_t>(0));
    CHECK(in_reading_order("blower dead in every position", heater()) == "I, II, III blower dead");
    const auto all = load_in_all_positions(heater());
    REQUIRE(all);
    CHECK(write_test(heater(), *all) == "I, II, III  M3");
    Problems problems;
    CHECK(read_test_phrase(TypedText::argument("test", "off  M3"), heater(), problems));
    CHECK_FALSE(problems.has_errors());
}
