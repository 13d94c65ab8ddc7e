// What a hurried person types at a screen in an order of his own is kept in the order of a reading; what may mean two
// things, or nothing, stays as it was typed. A line of a file is never turned about: its message says how to write it.
#include "netlists/phrases/reading_order.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/workshop.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

struct Row {
    const char* typed;
    const char* kept;  ///< "?" where it stays as typed and does not read
};

const std::vector<Row> rows{
#include "tests/netlists/loose_orders.inc"
};

Problems problems_of(const std::string& typed, const Circuit& circuit) {
    Problems problems;
    (void)read_reading_phrase(TypedText::argument("reading", typed), "1", circuit, problems);
    return problems;
}

/// The blower of the loose hands: one motor, two fuses, one relay, a lamp.
const Circuit& workshop() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(workshop_text);
    return *circuit;
}

}  // namespace

TEST_CASE("what is typed in another order is kept in the order of a reading, and reads") {
    CHECK(rows.size() > 40);
    for (const Row& row : rows) {
        const std::string kept = in_reading_order(row.typed, workshop());
        const Problems problems = problems_of(kept, workshop());
        INFO(row.typed << " -> " << kept << "\n" << all_problems(problems));
        CHECK((problems.has_errors() ? std::string("?") : kept) == row.kept);
        if (problems.has_errors()) CHECK(kept == row.typed);
    }
}

TEST_CASE("a line of a file that stands in another order is a problem, and its suggestion reads") {
    for (const Row& row : rows) {
        if (std::string(row.kept) == "?" || std::string(row.kept) == row.typed) continue;
        const Problems problems = problems_of(row.typed, workshop());
        INFO(row.typed << "\n" << all_problems(problems));
        REQUIRE(problems.has_errors());
        const std::string advice = problems.list().front().suggestion;
        REQUIRE(advice.starts_with("write "));
        CHECK_FALSE(problems_of(advice.substr(6), workshop()).has_errors());
    }
}

TEST_CASE("what was set may be said in a clause behind or in front") {
    const auto trailer = circuit_of(R"(format = 1
[parts]
B1 = "battery"
F1 = "fuse 10A mini, feed 30"
S1 = "switch C: off on=1"
S2 = "switch C: off run=1"
S3 = "switch C: off lo=1 hi=2"
L1 = "lamp 5W"
L2 = "lamp 5W"
M1 = "motor 15A"
H1 = "resistor 2ohm 100W, seat heater"
G1 = "ground tail"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > L1.1 1mm2 YE 3m"
3 = "S1.1 > L2.1 1mm2 YE 3m"
4 = "L1.2 > G1 1mm2 BK 1m"
5 = "L2.2 > G1 1mm2 BK 1m"
6 = "F1.2 > S2.C 4mm2 RD 1m"
7 = "S2.1 > M1.1 4mm2 RD 2m"
8 = "M1.2 > G1 4mm2 BK 1m"
9 = "F1.2 > S3.C 4mm2 RD 1m"
10 = "S3.1 > H1.1 2.5mm2 RD 1m"
11 = "S3.2 > H1.1 2.5mm2 RD 1m"
12 = "H1.2 > G1 2.5mm2 BK 1m"
[controls]
S1 = "tail lamps"
S2 = "blower"
S3 = "seat"
)");
    const auto kept = [&](const std::string& typed) { return in_reading_order(typed, *trailer); };
    CHECK(kept("L1 glows with the blower on") == "S2=run L1 glows");
    CHECK(kept("with the blower on L1 glows") == "S2=run L1 glows");
    CHECK(kept("L1 dim when S2 is on") == "S2=run L1 dim");
    CHECK(kept("blower dead while lamps are on") == "S1=on blower dead");
    CHECK(kept("L1 out with the tail lamps switched on") == "S1=on L1 out");
    CHECK(kept("L2 glows while the blower is running") == "S2=run L2 glows");
    CHECK(kept("blower runs with blower off") == "S2=off blower runs");
    // Which of two positions is on is not told: the line stays as it was typed.
    CHECK(kept("L1 dim with the seat on") == "L1 dim with the seat on");
}

TEST_CASE("a load that is not named is the only one, or the only one that the control switches") {
    CHECK(in_reading_order("hi dead", cab_blower()) == "hi M1 dead");
    const auto two = circuit_of(R"(format = 1
name = "two"
[parts]
B1 = "battery 12.6V"
F1 = "fuse 20A, feed 30"
S1 = "switch C: off on=1"
S2 = "switch C: off run=1"
M1 = "motor 8A @13.5V, left"
M2 = "motor 8A @13.5V, right"
G1 = "ground"
SP1 = "splice"
[wires]
1 = "F1.2 > SP1 2mm2 1m"
2 = "SP1 > S1.C 2mm2 1m"
3 = "SP1 > S2.C 2mm2 1m"
4 = "S1.1 > M1.1 2mm2 1m"
5 = "S2.1 > M2.1 2mm2 1m"
6 = "M1.2 > G1 2mm2 1m"
7 = "M2.2 > G1 2mm2 1m"
)");
    CHECK(in_reading_order("dead", *two) == "dead");
    CHECK(in_reading_order("dead on run", *two) == "on run M2 dead");
    CHECK(in_reading_order("S1=on dead", *two) == "S1=on M1 dead");
    CHECK(in_reading_order("fan 2 dead on run", *two) == "on run M2 dead");
    CHECK(in_reading_order("left fan ok", *two) == "M1 ok");
    CHECK(in_reading_order("fans ok on run", *two) == "fans ok on run");
}

TEST_CASE("what the place is missing for is said, and which of several is meant is asked") {
    const auto first = [](const std::string& typed) { return problems_of(typed, workshop()).list().front(); };
    CHECK(first("12v at motor").suggestion == "write C304.1 12v, or C304.2 12v, or M1.1 to M1.2 12v");
    CHECK(first("no volts at the blower on low").suggestion ==
          "write on low C304.1 0V, or on low C304.2 0V, or on low M1.1 to M1.2 0V");
    CHECK(first("no voltage at F7").suggestion == "write F7.1 0V, or F7.2 0V");
    CHECK(first("no voltage at wire 541").suggestion == "write F7.2@541 0V, or C101.4@541 0V");
    // Three ends are no two: their names are told.
    CHECK(first("no voltage at R1").suggestion.starts_with("name a point of it: R1.1, "));
    CHECK(first("0L").message == "'OL' stands alone: where was it read?");
    CHECK(first("fuse blown").suggestion == "write fuse F7 blown, or fuse F3 blown");
}

TEST_CASE("a thing may be called by the words that the file prints for it") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 20A regular, feed 15"
S1 = "switch C: off on=1, fan on"
T1 = "contact normally closed, freeze switch"
P1 = "contact opens 1.96bar, closes 2.25bar, healthy 8bar"
A1 = "clutch 3.6ohm, pulls 7.5V"
G1 = "ground left cowl stud"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > T1.1 1mm2 RD 1m"
3 = "T1.2 > P1.1 1mm2 RD 1m"
4 = "P1.2 > A1.1 1mm2 RD 1m"
5 = "A1.2 > G1 1mm2 RD 1m"
[controls]
S1 = "aircon"
)");
    const auto kept = [&](const std::string& typed) { return in_reading_order(typed, *circuit); };
    CHECK(kept("0.2V at the left cowl stud") == "G1 0.2V");
    CHECK(kept("freeze switch good") == "T1 good");
    CHECK(kept("3 ohms across the pressure switch") == "P1.1 to P1.2 3ohms");
    // A position and a load are not the words of a switch.
    CHECK(kept("clutch dead on on").find("S1") == std::string::npos);
}

TEST_CASE("a switch to ground switches the load whose relay hangs on its common") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 20A regular, feed 30"
F2 = "fuse 10A mini, feed 15"
K1 = "relay 30A, coil 90ohm"
S1 = "switch C: off on=1"
M1 = "motor 5A, stall 20A, pump"
G1 = "ground rear"
G2 = "ground dash"
[wires]
1 = "F1.2 > K1.30 2mm2 RD 1m"
2 = "F2.2 > K1.86 1mm2 RD 1m"
3 = "K1.85 > S1.C 1mm2 RD 1m"
4 = "S1.1 > G2 1mm2 RD 1m"
5 = "K1.87 > M1.1 2mm2 RD 1m"
6 = "M1.2 > G1 2mm2 RD 1m"
[controls]
S1 = "pump"
)");
    Problems problems;
    const auto reading = read_reading_phrase(TypedText::argument("reading", "on pump dead"), "1", *circuit, problems);
    INFO(all_problems(problems));
    REQUIRE(reading);
    CHECK(circuit->part(std::get<LoadReading>(reading->measurement).part).name == "M1");
}

TEST_CASE("a load that turns off is dead, and none that turns with something off") {
    CHECK(in_reading_order("blower turns off", cab_blower()) == "blower turns off");
    Problems problems;
    const auto reading =
        read_reading_phrase(TypedText::argument("reading", "hi, blower turns off"), "1", cab_blower(), problems);
    INFO(all_problems(problems));
    REQUIRE(reading);
    CHECK(std::get<LoadReading>(reading->measurement).word == "dead");
    // Not `off`, a position, with a blower that turns.
    CHECK(in_reading_order("tap the relay and the blower turns off", workshop()).find("off blower") ==
          std::string::npos);
}

TEST_CASE("a clutch has words of its own") {
    const auto meant = [](const std::string& typed) {
        Problems problems;
        const auto reading = read_reading_phrase(TypedText::argument("reading", typed), "1", two_controls(), problems);
        INFO(typed << "\n" << all_problems(problems));
        REQUIRE(reading);
        return std::get<LoadReading>(reading->measurement).word;
    };
    CHECK(meant("A1 pulls in") == "normal");
    CHECK(meant("A1 engages") == "normal");
    CHECK(meant("A1 kicks in") == "normal");
    CHECK(meant("A1 doesn't kick in") == "dead");
    CHECK(meant("A1 does not engage") == "dead");
    CHECK(meant("A1 slips") == "weak");
}
