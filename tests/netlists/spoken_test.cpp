// What people say as a whole sentence: one reading, several, or one of several; and tests as they are asked for.
#include <cctype>

#include "netlists/phrases/action_phrase.hpp"
#include "netlists/phrases/load_sides.hpp"
#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/spoken_pattern.hpp"
#include "netlists/phrases/spoken_rows.hpp"
#include "netlists/phrases/test_order.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/answers.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/workshop.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const Circuit& workshop() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(workshop_text);
    return *circuit;
}

Problem problem_of(const std::string& typed_line, const Circuit& circuit) {
    Problems problems;
    const std::string kept = in_reading_order(typed_line, circuit);
    (void)read_reading_phrase(TypedText::argument("reading", kept), "1", circuit, problems);
    INFO(typed_line << " -> " << kept);
    REQUIRE(problems.has_errors());
    return problems.list().front();
}

/// The test that is asked for, as the program writes it; "?" where the line is none.
std::string asked(const std::string& line, const Circuit& circuit) {
    Problems problems;
    const auto test = read_test_phrase(TypedText::argument("test", in_test_order(line, circuit)), circuit, problems);
    return test && !problems.has_errors() ? write_test(circuit, *test) : "?";
}

std::string sides(const Circuit& circuit, const std::string& load) {
    const auto found = sides_of_load(circuit, circuit.find_part(load));
    return found ? found->feed + " " + found->back : "?";
}

/// A motor between two change-over relays, and one whose terminal 2 is fed.
const Circuit& bridge() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
name = "bridge"
[parts]
B1 = "battery 12.6V"
F1 = "fuse 20A, feed 30"
K1 = "relay 20A"
K2 = "relay 20A"
M1 = "motor 2A @13.5V"
M2 = "motor 8A @13.5V"
S1 = "switch C: off up=1 down=2"
G1 = "ground"
SP1 = "splice"
SP2 = "splice"
[wires]
1 = "F1.2 > SP1 2mm2 1m"
2 = "SP1 > K1.87 2mm2 1m"
3 = "SP1 > K2.87 2mm2 1m"
4 = "K1.30 > M1.1 2mm2 1m"
5 = "K2.30 > M1.2 2mm2 1m"
6 = "K1.87a > SP2 2mm2 1m"
7 = "K2.87a > SP2 2mm2 1m"
8 = "SP2 > G1 2mm2 1m"
9 = "SP1 > S1.C 2mm2 1m"
10 = "S1.1 > K1.86 1mm2 1m"
11 = "S1.2 > K2.86 1mm2 1m"
12 = "K1.85 > G1 1mm2 1m"
13 = "K2.85 > G1 1mm2 1m"
14 = "SP1 > M2.2 2mm2 1m"
15 = "M2.1 > G1 2mm2 1m"
)");
    return *circuit;
}

}  // namespace

TEST_CASE("the feed of a load is the terminal that is drawn towards plus, whatever its number") {
    CHECK(sides(cab_blower(), "M1") == "1 2");
    CHECK(sides(workshop(), "L4") == "1 2");
    CHECK(sides(bridge(), "M2") == "2 1");
    // Either terminal of a motor between two relays may be the feed.
    CHECK(sides(bridge(), "M1") == "?");
    CHECK(in_reading_order("no power at M2", bridge()) == "M2.2 to B1- dead");
    CHECK(in_reading_order("no power at M1", bridge()) == "no power at M1");
}

TEST_CASE("a sentence that is more than one reading is told line by line") {
    const auto advice = [](const std::string& line) { return problem_of(line, workshop()).suggestion; };
    CHECK(advice("power at both sides of F7") == "write each on a line of its own: F7.1 live; F7.2 live");
    CHECK(advice("12V on both sides of fuse F7") == "write each on a line of its own: F7.1 12V; F7.2 12V");
    CHECK(advice("power in at F7 but not out") == "write each on a line of its own: F7.1 live; F7.2 dead");
    CHECK(advice("F7 both sides") == "write each on a line of its own: F7.1 live; F7.2 live");
    CHECK(advice("F7 good both sides") == "write each on a line of its own: F7.1 live; F7.2 live");
    CHECK(advice("F7 hot in and out") == "write each on a line of its own: F7.1 live; F7.2 live");
    CHECK(advice("power in at relay but not out") == "write each on a line of its own: K2.30 live; K2.87 dead");
    CHECK(advice("relay clicks but motor dead") == "write each on a line of its own: relay K2 clicks; motor dead");
    CHECK(advice("full power at M1.1, motor dead") ==
          "write each on a line of its own: M1.1 battery voltage; motor dead");
    CHECK(advice("hi 12V at M1.1 and 0V at M1.2") == "write each on a line of its own: hi M1.1 12V; S1=hi  M1.2 0V");
    CHECK(advice("test light bright at M1.1 but motor dead") ==
          "write each on a line of its own: lamp M1.1 bright; motor dead");
    const std::string but_high = "write each on a line of its own: S1=lo, S1=ml, S1=mh M1 dead; S1=hi M1 normal";
    for (const std::string line : {"all speeds lost but high", "lost all speeds except high", "no speeds but high",
                                   "all speeds but high are dead", "nothing but high works"}) {
        INFO(line);
        CHECK(advice(line) == but_high);
    }
    for (const std::string line : {"all speeds work but low", "all but low work", "every speed is ok except low"}) {
        INFO(line);
        CHECK(advice(line) == "write each on a line of its own: S1=ml, S1=mh, S1=hi M1 normal; S1=lo M1 dead");
    }
    // A half that names nothing is none.
    CHECK_FALSE(advice("relay clicks but runs").starts_with("write each"));
    CHECK(advice("all fuses good") == "write each on a line of its own: fuse F7 good; fuse F3 good");
}

TEST_CASE("what takes a protection away is refused, with the reason and what to measure instead") {
    const auto guarded = circuit_of(R"(format = 1
name = "clutch"
[parts]
B1 = "battery 12.6V"
F1 = "fuse 10A, feed 30"
P2 = "contact opens 31bar, closes 22bar, healthy 12bar"
A1 = "clutch 3.6ohm"
G1 = "ground"
[wires]
1 = "F1.2 > P2.1 1mm2 1m"
2 = "P2.2 > A1.1 1mm2 1m"
3 = "A1.2 > G1 1mm2 1m"
)");
    for (const std::string line : {"bypass P2", "jumper P2 and clutch engages", "bridged P2 with a wire",
                                   "P2 bypassed clutch pulls in", "jumped F1 and it runs", "bypass F1"}) {
        const Problem problem = problem_of(line, *guarded);
        INFO(line << ": " << problem.message << " | " << problem.suggestion);
        CHECK(problem.message.find("protects; it is never bypassed") != std::string::npos);
        CHECK(problem.suggestion.starts_with("measure on both sides of it: "));
        CHECK(in_reading_order(line, *guarded) == line);
    }
    // What was found so is kept as evidence.
    Problems problems;
    CHECK(
        read_reading_phrase(TypedText::argument("reading", "jumper P2.1 to P2.2  A1 normal"), "1", *guarded, problems));
}

TEST_CASE("a sentence that may mean several things is asked back, and each of them reads") {
    for (const std::string line : {"no power at F7", "no voltage at F7", "the fuse blows every time I turn it on",
                                   "fuse keeps blowing", "new fuse blew right away", "swapped the relay no change",
                                   "motor runs straight off the battery", "no change", "wire 542 gets hot"}) {
        INFO(line);
        const auto spoken = spoken_in(TypedText::argument("reading", line), workshop());
        REQUIRE(spoken);
        CHECK(spoken->as == SpokenAs::either);
        CHECK(spoken->lines.size() > 1);
        CHECK(problem_of(line, workshop()).suggestion ==
              "write " + spoken->lines[0] + ", or " +
                  (spoken->lines.size() == 2 ? spoken->lines[1] : spoken->lines[1] + ", or " + spoken->lines[2]));
        for (const std::string& one : spoken->lines) {
            Problems problems;
            INFO(one);
            CHECK(read_reading_phrase(TypedText::argument("reading", one), "1", workshop(), problems));
            INFO(all_problems(problems));
            CHECK_FALSE(problems.has_errors());
        }
    }
}

TEST_CASE("what is barely done is done weakly, and speeds may be called by their numbers") {
    Problems problems;
    const auto barely =
        read_reading_phrase(TypedText::argument("reading", "hi blower barely runs"), "1", workshop(), problems);
    REQUIRE(barely);
    CHECK(std::get<LoadReading>(barely->measurement).word == "slow");
    CHECK(problem_of("speeds 1 2 and 3 inop, 4 ok", cab_blower()).suggestion ==
          "write each on a line of its own: lo, ml, mh M1 inop; hi M1 ok");
    CHECK(problem_of("relay clicks but no high speed", cab_blower()).suggestion ==
          "write each on a line of its own: relay K3 clicks; hi M1 dead");
}

TEST_CASE("a word between that says nothing is not blamed, and is nothing that was seen") {
    CHECK(problem_of("blower is xylophonic", workshop()).message.starts_with("'xylophonic' is no word of a load"));
    CHECK(problem_of("look 542 is", workshop()).message.starts_with("what was seen is missing"));
    CHECK(problem_of("look C101.4 a bit", workshop()).message.starts_with("what was seen is missing"));
}

TEST_CASE("a test at a bench is taken as it is asked for") {
    const auto is = [](const std::string& line, const std::string& test) {
        INFO(line);
        CHECK(asked(line, workshop()) == test);
    };
    is("check fuse F7", "fuse F7");
    is("is fuse F7 ok?", "fuse F7");
    is("is fuse 7 blown", "fuse F7");
    is("listen to relay K2 on high", "S1=hi  relay K2");
    is("relay 2 clicks?", "relay K2");
    is("power at M1.1", "M1.1 to B1-");
    is("voltage at relay 2 pin 30", "K2.30 to B1-");
    is("measure voltage at M1.1 on high", "S1=hi  M1.1 to B1-");
    is("test light at M1.1", "lamp M1.1 to B1-");
    is("12 volts at M1.1?", "M1.1 to B1-");
    is("listen to relay K2 on high", "S1=hi  relay K2");
    is("does the blower run on high?", "S1=hi  M1");
    is("inspect C303", "look C303");
    is("voltage at the relay coil", "K2.85 to K2.86");
    is("voltage at L4.1 on", "S2=on  L4.1 to B1-");
    is("turn the motor by hand", "look M1");
    is("M1 by hand", "look M1");
    is("is there good ground at M1.2", "B1+ to M1.2");
    is("voltage across the motor", "M1.1 to M1.2");
    is("resistance of the relay coil", "ohms K2.85 to K2.86");
    is("unplug C304, resistance of M1", "unplug C304  ohms M1.1 to M1.2");
    is("current of the blower on high", "S1=hi  clamp 542");
    is("ground side of the motor on high", "S1=hi  C304.2 to B1-");
    is("hi M1.1 to B1-", "S1=hi  M1.1 to B1-");
    is("voltage at nothing", "?");
    CHECK(asked("pressure on the low side", two_controls()) == "gas pressure low side");
}

TEST_CASE("a whole reading typed where an answer was asked for keeps its own state and not the test's") {
    const auto kept = [](const std::string& asked_for, const std::string& line) {
        return kept_answer(cab_blower(), asked_for, line);
    };
    CHECK(kept("lo, new K3  blower", "hi M1.1 12.3V") == "hi M1.1 12.3V");
    CHECK(kept("lo, new K3  blower", "slow") == "lo, new K3  blower  slow");
    CHECK(kept("hi  M1.1 to B1-", "12.3") == "hi  M1.1 to B1-  12.3V");
    CHECK(kept("hi  M1.1 to B1-", "fuse F7 blown") == "fuse F7 blown");
}

TEST_CASE("a plug is renewed at a bench by its own name, and what is no plug is told by the nearest") {
    Problems problems;
    const auto renewed = read_action_phrase(TypedText::argument("line", "new C303"), cab_blower(), problems);
    REQUIRE(renewed);
    REQUIRE(std::holds_alternative<RepairPlace>(renewed->what));
    CHECK(std::get<RepairPlace>(renewed->what).place == "C303");
    const auto fitted = read_action_phrase(TypedText::argument("line", "new R1"), cab_blower(), problems);
    REQUIRE(fitted);
    CHECK(std::holds_alternative<FitPart>(fitted->what));
    CHECK_FALSE(problems.has_errors());
    CHECK_FALSE(read_action_phrase(TypedText::argument("line", "new C33"), cab_blower(), problems));
    REQUIRE(problems.has_errors());
    CHECK(problems.list().front().suggestion == "did you mean 'C303'?");
}

TEST_CASE("a test at a thing of several points is told which they are") {
    Problems problems;
    CHECK_FALSE(read_action_phrase(TypedText::argument("line", "power at S1"), workshop(), problems));
    REQUIRE(problems.has_errors());
    CHECK(problems.list().front().suggestion.starts_with("name a point of it: S1."));
}

TEST_CASE("a pattern is held against every line that has its words, however they are said, and against few others") {
    std::size_t without = 0;
    std::size_t held = 0;
    for (const SpokenState& row : spoken_states()) {
        for (const SpokenPattern& pattern : cut_patterns(row.said)) {
            std::vector<SpokenPattern::Piece> needed;
            for (const auto& piece : pattern.pieces())
                if (!piece.optional && !piece.is_name) needed.push_back(piece);
            INFO(row.said);
            REQUIRE_FALSE(needed.empty());
            for (std::size_t way = 0; way < 3; ++way) {
                WordBits line;
                line.add("M1");
                for (const auto& piece : needed) {
                    std::string said(piece.said[way % piece.said.size()]);
                    for (char& letter : said) letter = static_cast<char>(std::toupper(letter));
                    line.add(said);
                }
                CHECK(pattern.may_stand_among(line));
            }
            WordBits last_left_out;
            for (std::size_t i = 0; i + 1 < needed.size(); ++i) last_left_out.add(needed[i].said.front());
            ++without;
            if (pattern.may_stand_among(last_left_out)) ++held;
        }
    }
    CHECK(without > 50);
    CHECK(held * 10 < without);
}
