#include "netlists/checks/wiring_sense.hpp"

#include <fstream>
#include <sstream>

#include "tests/support/wiring.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const std::string bookmobile_path = std::string(PROJECT_DIR) + "/scenarios/bookmobile/cab-blower.toml";

std::string file_text(const std::string& path) {
    std::ifstream file(path);
    std::ostringstream text;
    text << file.rdbuf();
    REQUIRE(text.str().size() > 100);
    return text.str();
}

/// Replaces the first occurrence; the test fails when there is none.
std::string with(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    INFO("looked for '" << from << "'");
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

/// Takes out the whole line that starts so.
std::string without_line(const std::string& text, const std::string& start) {
    const auto at = text.find("\n" + start);
    INFO("looked for line '" << start << "'");
    REQUIRE(at != std::string::npos);
    const auto end = text.find('\n', at + 1);
    return text.substr(0, at) + text.substr(end);
}

void check_problem(const Problems& problems, Severity severity, const std::string& words, const std::string& at) {
    INFO(all(problems) << "wanted: " << words);
    const Problem* found = find(problems, words);
    REQUIRE(found);
    CHECK(found->severity == severity);
    CHECK_FALSE(found->suggestion.empty());
    CHECK(found->place.line > 0);
    CHECK_THAT(found->place.text.str(), Catch::Matchers::Contains(at));
}

std::size_t count(const Problems& problems, Severity severity) {
    std::size_t number = 0;
    for (const Problem& problem : problems.list()) number += problem.severity == severity;
    return number;
}

}  // namespace

TEST_CASE("the bookmobile's circuits make sense as they are") {
    for (const char* name : {"cab-blower", "rear-blower", "clutch"}) {
        const std::string path = std::string(PROJECT_DIR) + "/scenarios/bookmobile/" + name + ".toml";
        const Problems problems = problems_of(file_text(path));
        INFO(name << "\n" << all(problems));
        CHECK(count(problems, Severity::error) == 0);
        CHECK(count(problems, Severity::warning) == 0);
    }
}

TEST_CASE("a lost ground wire of the pack's switch leaves the three lower speeds without a way back") {
    const Problems problems = problems_of(without_line(file_text(bookmobile_path), "820b"));
    check_problem(problems, Severity::error, "S1.C has no wire", "S1");
    check_problem(problems, Severity::warning, "no wire reaches G202", "G202");
    check_problem(problems, Severity::error, "relay K3 can never pull", "K3");
    // M1's only other way back runs through the relay, which cannot pull.
    check_problem(problems, Severity::error, "M1 has no way back to ground", "M1");
}

TEST_CASE("a motor without its return wire is told with its terminal") {
    const Problems problems = problems_of(without_line(file_text(bookmobile_path), "555"));
    check_problem(problems, Severity::error, "M1.2 has no wire, so M1 has no way back to ground", "M1");
}

TEST_CASE("a motor whose feed ends in the air is told so") {
    const std::string text = with(file_text(bookmobile_path), "F7.2 > C101.4", "F7.2 > C101.3");
    const Problems problems = problems_of(text);
    check_problem(problems, Severity::error, "M1 has no way to the supply", "M1");
    check_problem(problems, Severity::warning, "wire 541 is the only one at C101.3", "541");
    check_problem(problems, Severity::warning, "wire 542 is the only one at C101.4", "542");
}

TEST_CASE("both wires on one half of a cavity bypass the contact") {
    const std::string text = with(file_text(bookmobile_path), "C101.4 > M1.1 ", "M1.1 > C101.4 ");
    const Problems problems = problems_of(text);
    check_problem(problems, Severity::error, "wires 541 and 542 are all written to C101.4", "542");
    CHECK_THAT(find(problems, "all written to")->suggestion, Catch::Matchers::Contains("*from* C101.4"));
}

TEST_CASE("relay coils: one side, none, never fed") {
    const std::string text = file_text(bookmobile_path);
    check_problem(problems_of(without_line(text, "811")), Severity::error,
                  "only one side of the coil of relay K3 is wired: K3.86", "K3");
    check_problem(problems_of(without_line(text, "804")), Severity::error,
                  "only one side of the coil of relay K3 is wired: K3.85", "K3");
    const std::string bare = without_line(without_line(text, "811"), "804");
    check_problem(problems_of(bare), Severity::error, "its coil is not", "K3");
    const std::string both_ground = with(text, "F12.2 > K3.86", "G202 > K3.86");
    check_problem(problems_of(both_ground), Severity::error, "neither side has a way to the supply", "K3");
}

TEST_CASE("a relay without contacts switches nothing") {
    const std::string text = without_line(without_line(file_text(bookmobile_path), "557"), "820a");
    check_problem(problems_of(text), Severity::warning, "no contact of relay K3 is wired", "K3");
}

TEST_CASE("positions that reach nothing") {
    const std::string text = file_text(bookmobile_path);
    check_problem(problems_of(without_line(text, "802")), Severity::error,
                  "position ml of S1 reaches nothing: S1.2 has no wire", "S1");
    // The wire is there but its far end hangs on nothing.
    const std::string far = with(text, "R1.2 > S1.2", "C101.7 > S1.2");
    check_problem(problems_of(far), Severity::error, "position ml of S1 reaches nothing: what is wired to S1.2", "S1");
    const std::string two = with(text, "hi=4\"", "hi=4+5\"");
    const Problems problems = problems_of(two);
    check_problem(problems, Severity::warning, "contact 5 of S1 has no wire", "S1");
    CHECK(count(problems, Severity::error) == 0);
}

TEST_CASE("a fuse larger than the thinnest wire before a load is a warning that names wire, amps and table") {
    const std::string text = with(file_text(bookmobile_path), "C101.4 > M1.1     6mm2", "C101.4 > M1.1     1.5mm2");
    const Problems problems = problems_of(text);
    check_problem(problems, Severity::warning, "F7 (40A) is larger than wire 542", "F7");
    CHECK_THAT(find(problems, "larger than wire")->message, Catch::Matchers::Contains("33 CFR 183.425"));
    CHECK(count(problems, Severity::error) == 0);
    // 556 lies behind the motor, so a short to metal on it meets a load first.
    CHECK_FALSE(find(problems, "556"));
}

TEST_CASE("a wire behind a smaller fuse is that fuse's to guard, doubled wires carry twice") {
    const std::string parts =
        "F1 = \"fuse 60A maxi, feed 30\"\nF2 = \"fuse 10A mini\"\nL1 = \"lamp 21W\"\nSP1 = \"splice\"\n";
    const std::string wires =
        "1 = \"F1.2 > SP1 10mm2 RD 1m\"\n2 = \"SP1 > F2.1 10mm2 RD 1m\"\n3 = \"F2.2 > L1.1 0.75mm2 GN 1m\"\n"
        "4 = \"L1.2 > G1 0.75mm2 BK 1m\"\n";
    CHECK_FALSE(find(problems_of(small(parts, wires)), "larger than wire"));
    // 0.75 mm2 carries about 18 A, below a 20 A fuse; two of them carry about 37 A.
    const std::string larger = with(parts, "fuse 10A", "fuse 20A");
    check_problem(problems_of(small(larger, wires)), Severity::warning, "F2 (20A) is larger than wire 3", "F2");
    const std::string doubled = with(wires, "0.75mm2 GN 1m", "0.75mm2 x2 GN 1m");
    CHECK_FALSE(find(problems_of(small(larger, doubled)), "larger than wire"));
}

TEST_CASE("a dead short as drawn names its wires and the position") {
    const std::string parts = "F1 = \"fuse 10A mini, feed 30\"\nS1 = \"switch C: off on=1\"\nL1 = \"lamp 21W\"\n";
    const std::string wires =
        "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n2 = \"S1.1 > G1 1mm2 BK 1m\"\n3 = \"F1.2 > L1.1 1mm2 RD 1m\"\n4 = \"L1.2 > G1 "
        "1mm2 BK 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    check_problem(problems, Severity::error, "dead short with S1 at on", "F1.2 > S1.C");
    CHECK_THAT(find(problems, "dead short")->message, Catch::Matchers::Contains("wire 1, S1, wire 2"));
    const std::string drawn = small("L1 = \"lamp 21W\"\n",
                                    "1 = \"B1+ > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n"
                                    "3 = \"B1+ > G1 16mm2 BK 1m\"\n");
    check_problem(problems_of(drawn), Severity::error, "dead short as drawn", "B1+ > G1");
}

TEST_CASE("batteries that fight, and batteries in series that do not") {
    const std::string load = "L1 = \"lamp 21W\"\n";
    const std::string lamp = "8 = \"B1+ > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n";
    const std::string beside = "1 = \"B1+ > B2+ 16mm2 RD 1m\"\n2 = \"B2- > G1 16mm2 BK 1m\"\n";
    check_problem(problems_of(small("B2 = \"battery 24V 8mohm\"\n" + load, beside + lamp)), Severity::error, "fights",
                  "B2");
    CHECK_FALSE(find(problems_of(small("B2 = \"battery 12.5V 8mohm\"\n" + load, beside + lamp)), "fights"));
    const std::string turned = "1 = \"B1+ > B2- 16mm2 RD 1m\"\n2 = \"B2+ > G1 16mm2 BK 1m\"\n";
    check_problem(problems_of(small("B2 = \"battery 12.6V 8mohm\"\n" + load, turned + lamp)), Severity::error,
                  "wrong way round", "B2");
    const std::string series =
        "1 = \"B1+ > B2- 16mm2 RD 1m\"\n2 = \"B2+ > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n";
    const Problems fine = problems_of(small("B2 = \"battery 12.6V 8mohm\"\n" + load, series));
    INFO(all(fine));
    CHECK(count(fine, Severity::error) == 0);
}

TEST_CASE("a load that two switches in series feed is right") {
    const std::string parts =
        "F1 = \"fuse 10A mini, feed 30\"\nS1 = \"switch C: off on=1\"\nS2 = \"switch C: off on=1\"\nL1 = \"lamp "
        "21W\"\n";
    const std::string wires =
        "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n2 = \"S1.1 > S2.C 1mm2 RD 1m\"\n3 = \"S2.1 > L1.1 1mm2 RD 1m\"\n4 = \"L1.2 > "
        "G1 1mm2 BK 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    INFO(all(problems));
    CHECK(count(problems, Severity::error) == 0);
}

TEST_CASE("a lamp behind a door contact that stands open is right") {
    const std::string parts = "F1 = \"fuse 10A mini, feed 30\"\nP1 = \"contact normally open\"\nL1 = \"lamp 5W\"\n";
    const std::string wires =
        "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > P1.1 1mm2 BK 1m\"\n3 = \"P1.2 > G1 1mm2 BK 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    INFO(all(problems));
    CHECK(count(problems, Severity::error) == 0);
    CHECK(count(problems, Severity::warning) == 0);
}

TEST_CASE("a lamp whose ground is lost beside another is not called right") {
    const std::string parts =
        "F1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 21W\"\nL2 = \"lamp 5W\"\nSP1 = \"splice\"\n";
    const std::string wires =
        "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > SP1 1mm2 BK 1m\"\n3 = \"L2.2 > SP1 1mm2 BK 1m\"\n"
        "4 = \"L2.1 > G1 1mm2 BK 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    check_problem(problems, Severity::warning, "current reaches L1 only through another load", "L1");
}

TEST_CASE("a ballast in front of a motor is right") {
    const std::string parts =
        "F1 = \"fuse 20A regular, feed 30\"\nR1 = \"resistor 0.6ohm 100W\"\nM1 = \"motor 10A @13.5V\"\n";
    const std::string wires =
        "1 = \"F1.2 > R1.1 2.5mm2 RD 1m\"\n2 = \"R1.2 > M1.1 2.5mm2 RD 1m\"\n3 = \"M1.2 > G1 2.5mm2 BK 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    INFO(all(problems));
    CHECK(count(problems, Severity::error) == 0);
    CHECK(count(problems, Severity::warning) == 0);
}

TEST_CASE("a fuse whose own words tell what feeds it is told the word for that") {
    const auto advice = [](const std::string& words) {
        const Problems problems = problems_of(small("F1 = \"fuse 10A mini" + words + "\"\nM1 = \"motor 5A @13.5V\"\n",
                                                    "1 = \"F1.2 > M1.1 1mm2 RD 1m\"\n"));
        const Problem* problem = find(problems, "F1.1 has neither a wire nor a feed");
        REQUIRE(problem != nullptr);
        return problem->suggestion;
    };
    CHECK(advice(", always live") == "write feed 30 in place of 'always live'");
    CHECK(advice(", ignition") == "write feed 15 in place of 'ignition'");
    CHECK(advice(", in the dash").starts_with("add ', feed 30'"));
    CHECK(advice("").starts_with("add ', feed 30'"));
}

TEST_CASE("what is dead behind a fuse without a feed is no mistake of its own") {
    const Problems problems =
        problems_of(small("F1 = \"fuse 20A regular, always live\"\nS1 = \"switch C: off in=1\"\nK1 = \"relay 30A\"\n"
                          "M1 = \"motor 10A @13.5V\"\n",
                          "1 = \"F1.2 > S1.C 2.5mm2 RD 1m\"\n2 = \"S1.1 > K1.86 0.75mm2 YE 1m\"\n"
                          "3 = \"K1.85 > G1 0.75mm2 BK 1m\"\n4 = \"F1.2 > K1.30 2.5mm2 RD 1m\"\n"
                          "5 = \"K1.87 > M1.1 2.5mm2 GN 1m\"\n6 = \"M1.2 > G1 2.5mm2 BK 1m\"\n"));
    INFO(all(problems));
    CHECK(count(problems, Severity::error) == 1);
    CHECK(find(problems, "F1.1 has neither a wire nor a feed") != nullptr);
    CHECK_FALSE(find(problems, "no wire reaches B1"));
}

TEST_CASE("parts without wires, splices with one, fuses without a feed") {
    const std::string parts =
        "F1 = \"fuse 10A mini\"\nF2 = \"fuse 10A mini, feed 30\"\nM1 = \"motor 5A @13.5V\"\nL1 = \"lamp 5W\"\n"
        "SP1 = \"splice\"\nC1 = \"connector\"\nS1 = \"switch C: off on=1\"\n";
    const std::string wires = "1 = \"F1.2 > SP1 1mm2 RD 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    check_problem(problems, Severity::error, "F1.1 has neither a wire nor a feed", "F1");
    check_problem(problems, Severity::error, "no wire reaches F2", "F2");
    check_problem(problems, Severity::error, "no wire reaches M1", "M1");
    check_problem(problems, Severity::warning, "no wire reaches L1", "L1");
    check_problem(problems, Severity::warning, "no wire reaches C1", "C1");
    check_problem(problems, Severity::warning, "no wire reaches G1", "G1");
    check_problem(problems, Severity::warning, "only one wire reaches splice SP1", "SP1");
    CHECK_FALSE(find(problems, "M1 has no way"));  // told once
}

TEST_CASE("a key without 15 cannot drive feed 15") {
    const std::string parts = "S9 = \"key: off acc=75 on=75\"\nF1 = \"fuse 10A mini, feed 15\"\nL1 = \"lamp 5W\"\n";
    const std::string wires =
        "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n3 = \"B1+ > S9.30 1mm2 RD 1m\"\n";
    check_problem(problems_of(small(parts, wires)), Severity::error, "no position of S9 closes contact 15", "S9");
}

TEST_CASE("guessed lengths are one note, a fuse fed twice is one") {
    const std::string parts = "F1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 5W\"\n";
    const std::string wires =
        "1 = \"F1.2 > L1.1 1mm2 RD ~1.4m\"\n2 = \"L1.2 > G1 1mm2 BK\"\n3 = \"B1+ > F1.1 1mm2 RD 1m\"\n";
    const Problems problems = problems_of(small(parts, wires));
    check_problem(problems, Severity::note, "guessed: the lengths of wires 1 and 2", "F1.2 > L1.1");
    check_problem(problems, Severity::note, "F1 has 'feed 30' and wire 3", "F1");
}

TEST_CASE("`normally` against a contact's figures is a warning") {
    const std::string clutch = file_text(std::string(PROJECT_DIR) + "/scenarios/bookmobile/clutch.toml");
    const std::string figures = "contact opens 1.96bar, closes 2.25bar, healthy 8bar, low pressure";
    CHECK(find(problems_of(clutch), "said to be normally") == nullptr);
    const Problems said =
        problems_of(with(clutch, figures, "contact normally closed, opens 1.96bar, closes 2.25bar, healthy 8bar"));
    const Problem* against =
        find(said, "P1 is said to be normally closed, but by its figures it is open without pressure");
    REQUIRE(against);
    CHECK(against->severity == Severity::warning);
    CHECK(find(problems_of(with(clutch, figures, "contact normally open, opens 1.96bar, closes 2.25bar, healthy 8bar")),
               "said to be normally") == nullptr);
}

TEST_CASE("a load that ages its fuse, and a start that does, are warnings (E15, F33, F36)") {
    // 19.8 A on 25 A is 79 %: it breaks a 75 % rule (E15). The motor is fed straight, so that it draws its nameplate's.
    const auto fed_by = [](const std::string& fuse, const std::string& motor) {
        return problems_of("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 13.7V\"\nF1 = \"fuse " + fuse +
                           ", feed 30\"\nM1 = \"" + motor +
                           "\"\nG1 = \"ground\"\n[wires]\nw1 = \"F1.2 > M1.1 4mm2 RD 0.2m\"\nw2 = \"M1.2 > G1 4mm2 BK "
                           "0.2m\"\n");
    };
    const std::string blower = "motor 19.8A @13.5V, 3500rpm, stall 79A";
    const Problems tight = fed_by("25A regular", blower);
    const Problem* load = find(tight, "of its rating");
    REQUIRE(load);
    CHECK(load->severity == Severity::warning);
    CHECK((load->message.find("78%") != std::string::npos || load->message.find("79%") != std::string::npos));
    CHECK(find(fed_by("30A regular", blower), "of its rating") == nullptr);
    // Reference parts 5.1: peak heat of a blower's start on a 25 A fuse 0.59 at 1e-3 kg.m2, 0.41 at 0.2e-3.
    CHECK(find(fed_by("25A regular", blower + ", inertia 0.002kgm2"), "of its melting heat"));
    CHECK(find(fed_by("40A maxi", blower + ", inertia 0.001kgm2"), "of its melting heat") == nullptr);
    // Without a typed inertia nothing is said of a start; two fuses side by side share.
    CHECK(find(fed_by("20A mini", blower), "of its melting heat") == nullptr);
    CHECK(find(fed_by("40A maxi", blower), "of its rating") == nullptr);
}
