// Proofs at their edges: readings that are no proof of what is asked, closed plugs, loads by the key or in two wires,
// limits without a low end, runs that no count ends.
#include <algorithm>

#include "engine/proof/rule_of_succession.hpp"
#include "tests/support/proofs.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;
using voltfall::testing::check_at;
using voltfall::testing::circuit_of;
using voltfall::testing::Told;

namespace {

const std::vector<std::string> slow_blower{"key run, ml,mh,hi  blower slow", "key run, hi  B1+ to B1-  14.10V",
                                           "key run, hi  M1.1 to B1-  10.20V", "key run, hi  across C101.4  3.61V"};
const std::string runs_well = "lo,ml,mh,hi  blower normal";
const std::string full_supply = "key run, hi  B1+ to B1-  14.05V";

/// A clutch of one switch with a limit that names neither volts nor a low end.
const std::string limited_clutch = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
S1 = "switch C: off on=1"
A1 = "clutch 3.6ohm, pulls 7.5V"
G1 = "ground"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 0.5m"
2 = "S1.1 > A1.1 2.5mm2 GN 0.5m"
3 = "A1.2 > G1 2.5mm2 BK 0.5m"
[controls]
S1 = "clutch"
[limits]
on.amps = "<4.1A"
)";

}  // namespace

TEST_CASE("a reading proves only what it was taken of") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const struct {
        std::vector<std::string> after;
        const char* check;
        CheckResult result;
        const char* words;
    } rows[] = {
        // A range, and another wire's current, are no current of the blower.
        {{runs_well, full_supply, "key run, hi  clamp 542  18-21A"},
         "amps of M1 at hi",
         CheckResult::open,
         "no current was read"},
        {{runs_well, full_supply, "key run, hi  clamp 811  0.1A"},
         "amps of M1 at hi",
         CheckResult::open,
         "no current was read"},
        {{runs_well, full_supply, "key run, hi  clamp 542  20.3A"},
         "amps of M1 at hi",
         CheckResult::passed,
         "at 13.5 V"},
        // With a lead clipped on it is another circuit.
        {{"hi, jumper SP1 to G201  M1 normal"}, "M1 at hi", CheckResult::open, "not tried since the repair"},
        // Both leads behind the load say nothing of its feed.
        {{runs_well, full_supply, "key run, hi  M1.2 to B1+  13.9V"}, "feed of M1 at hi", CheckResult::open, "no drop"},
        {{runs_well, full_supply, "key run, hi  M1.1 to B1+  0.3V"}, "feed of M1 at hi", CheckResult::passed, ""},
    };
    for (const auto& row : rows) {
        const ProofAnswer answer = testing::proof_of(*circuit, {slow_blower, {"C101.4 new terminal"}, row.after});
        const ProofCheck& check = check_at(answer, row.check);
        INFO(row.after.back() << ": " << check.why);
        CHECK(check.result == row.result);
        CHECK(check.why.find(row.words) != std::string::npos);
    }
}

TEST_CASE("a reading that no sound vehicle gives is a fault that is still there") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const ProofAnswer answer = testing::proof_of(
        *circuit,
        {slow_blower, {"C101.4 new terminal"}, {runs_well, full_supply, "key run, hi  C101.4@542 to B1-  9.5V"}});
    CHECK(is_still_faulty(answer));
    CHECK(answer.hand_back_text.find("has failed") != std::string::npos);
    const ProofAnswer sound =
        testing::proof_of(*circuit, {slow_blower, {"C101.4 new terminal"}, {runs_well, full_supply}});
    CHECK_FALSE(is_still_faulty(sound));
}

TEST_CASE("the worst look since the repair counts, whichever came first") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    for (const auto& looks : {std::vector<std::string>{"hi air weak", "hi air normal"},
                              std::vector<std::string>{"hi air normal", "hi air weak"}}) {
        std::vector<std::string> after{runs_well};
        after.insert(after.end(), looks.begin(), looks.end());
        const ProofAnswer answer = testing::proof_of(*circuit, {{"hi air none"}, {"M1 new"}, after});
        const ProofCheck& check = check_at(answer, "hi  air");
        CHECK(check.result == CheckResult::failed);
        CHECK(check.after == "weak");
    }
}

TEST_CASE("what is asked at a closed plug is asked at its own name") {
    const auto closed = testing::cab_blower_with("[care]", "[closed]\nC304 = \"sealed\"\nM1 = \"sealed\"\n[care]");
    const ProofAnswer answer = testing::proof_of(*closed, {slow_blower, {"C101.4 new terminal"}, {runs_well}});
    CHECK(check_at(answer, "feed of M1 at hi").closes == "hi, key run  B1+ to C304.1");
}

TEST_CASE("warmth is asked of a pin where its plug was repaired, and not where another was") {
    const auto pin = testing::cab_blower_with("C303    = \"40C\"", "\"C303.1\" = \"40C\"");
    const ProofAnswer plug = testing::proof_of(*pin, {slow_blower, {"C303 new plug"}, {runs_well, full_supply}});
    CHECK(check_at(plug, "warmth of C303.1").result == CheckResult::open);
    const ProofAnswer other = testing::proof_of(*pin, {slow_blower, {"C101.4 new terminal"}, {runs_well, full_supply}});
    CHECK(testing::check_named(other, "warmth of C303.1") == nullptr);
}

TEST_CASE("what goes together by its current is read as one, and felt warm elsewhere is not looked at") {
    const auto circuit = testing::cab_blower_with("\"M1 amps\"", "\"M1 current\"");
    const Told dead{{"lo,ml,mh  M1 dead", "hi  M1 normal", "unplug C303  R1.1 to R1.4  OL"},
                    {"R1 new pack"},
                    {runs_well, "mh C101 rise 10C"}};
    const ProofAnswer answer = testing::proof_of(*circuit, dead);
    CHECK(check_at(answer, "with R1: M1 current").closes.find("clamp 541") != std::string::npos);
    CHECK(check_at(answer, "with R1: C303 plug and pins").closes == "look C303");
}

TEST_CASE("a limit without a low end or volts of its own is held at the current as it was read") {
    const auto circuit = circuit_of(limited_clutch);
    const Told told{{"on  A1 dead"}, {"1 new wire"}, {"on  A1 pulls", "key run, on  B1+ to B1-  14.1V"}};
    for (const auto& [amps, result] :
         {std::pair{"3.9A", CheckResult::passed}, std::pair{"4.3A", CheckResult::failed}}) {
        Told read = told;
        read.after.push_back(std::string("key run, on  clamp 1  ") + amps);
        const ProofAnswer answer = testing::proof_of(*circuit, read);
        const ProofCheck& check = check_at(answer, "amps of A1 at on");
        CHECK(check.result == result);
        CHECK(check.limit == "4.1 A at most");
        CHECK(check.why.find(" at ") == std::string::npos);
    }
}

TEST_CASE("a load that two wires feed and two take back is asked for its current, loaded") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 30A regular, feed 30"
S1 = "switch C: off on=1"
M1 = "motor 9A @13.5V, 3000rpm, stall 36A"
C1 = "connector, 4 way"
C2 = "connector, 4 way"
[plugs]
F1 = "C8"
[wires]
1 = "C8.2 > S1.C 2.5mm2 RD 1m"
2 = "C8.2 > S1.C 2.5mm2 RD 1m"
3 = "S1.1 > M1.1 2.5mm2 RD 1m"
4 = "S1.1 > M1.1 2.5mm2 RD 1m"
5 = "M1.2 > B1- 2.5mm2 BK 1m"
6 = "M1.2 > B1- 2.5mm2 BK 1m"
[controls]
S1 = "fan"
)");
    const ProofAnswer answer = testing::proof_of(*circuit, {{"on  M1 dead"}, {"3 new wire"}, {"on  M1 normal"}});
    CHECK(check_at(answer, "amps of M1 at on").closes == "the current of M1, loaded");
}

TEST_CASE("a load that the key alone switches is proved in each of the key's positions") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
S0 = "key: off acc=75 on=75+15 start=15+50"
F1 = "fuse 10A mini, feed 15"
L1 = "lamp 21W"
G1 = "ground"
[wires]
1 = "F1.2 > L1.1 1mm2 RD 1m"
2 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S0 = "key"
)");
    const ProofAnswer answer = testing::proof_of(*circuit, {{"key on  L1 out"}, {"1 new wire"}, {}});
    std::vector<std::string> closes;
    for (const ProofCheck& check : answer.checks)
        if (check.sort == CheckSort::load) closes.push_back(check.closes);
    REQUIRE(closes.size() == 2);
    CHECK(closes[0] == "key on  L1");
    CHECK(closes[1] == "key start  L1");
}

TEST_CASE("where the load draws nothing in any position a place is moved and its overload named, no current asked") {
    const auto circuit = circuit_of(testing::fan_that_rests + "[together]\nP1 = [\"M1 amps\"]\n");
    const ProofAnswer elsewhere = testing::proof_of(*circuit, {{"on  M1 runs"}, {"G1 cleaned"}, {}});
    CHECK(check_at(elsewhere, "the repair and the readings before it").closes.starts_with("wiggle "));
    const ProofAnswer burnt = testing::proof_of(*circuit, {{"on  M1 runs", "look P1 burnt"}, {"P1 new"}, {}});
    CHECK(check_at(burnt, "why P1 burnt").closes == "name under [repaired] what overloaded it");
    CHECK(check_at(burnt, "with P1: M1 amps").closes.empty());
}

TEST_CASE("a fault that never showed is not counted away: the runs asked for end at a bound") {
    // Laplace: (n + 1) / (n + 1 + k) falls to a twentieth at nineteen times n + 1 runs.
    CHECK(sound_runs_needed(0, 4) == 95);
    CHECK(sound_runs_needed(0, 50) == 99);
    CHECK(chance_unseen(0, 4, 95) == Approx(0.05));
}
