// Proving a repair in circuits other than the demo's: a ground that is the battery's own, limits without a supply, a
// lamp, two loads of one switch.
#include <algorithm>

#include "engine/proof/tests_to_prove.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/proofs.hpp"

using namespace voltfall;
using voltfall::testing::check_at;
using voltfall::testing::check_named;
using voltfall::testing::circuit_of;
using voltfall::testing::job_of_all;
using voltfall::testing::Told;

namespace {

/// A heater blower of a book van: motor without a plug, its return wired to the battery's own post, no ground between.
const std::string no_ground = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F9 = "fuse 20A regular, feed 30"
S7 = "switch C: off on=1"
M3 = "motor 9A @13.5V"
[wires]
1 = "F9.2 > S7.C 2.5mm2 RD 1m"
2 = "S7.1 > M3.1 2.5mm2 RD 1m"
3 = "M3.2 > B1- 2.5mm2 BN 1m"
[controls]
S7 = "blower"
)";

/// Two lamps of one switch on one ground, and a heater of another.
const std::string lamps = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
F2 = "fuse 30A regular, feed 30"
S1 = "switch C: off park=1 main=2"
S2 = "switch C: off on=1"
L1 = "lamp 21W"
L2 = "lamp 21W"
H1 = "resistor 0.9ohm 250W"
C7 = "connector, 4 way"
G1 = "ground frame"
[plugs]
H1 = "C9"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > C7.1 > L1.1 1mm2 BU 1m 1m"
3 = "S1.2 > L2.1 1mm2 BU 2m"
4 = "L1.2 > G1 1mm2 BK 0.5m"
5 = "L2.2 > G1 1mm2 BK 0.5m"
6 = "F2.2 > S2.C 4mm2 RD 1m"
7 = "S2.1 > H1.1 4mm2 YE 1m"
8 = "H1.2 > G1 4mm2 BK 0.5m"
[controls]
S1 = "lights"
S2 = "seat"
)";

ProofAnswer proof_of(const std::string& text, const Told& told) {
    return testing::proof_of(*circuit_of(text), told);
}

const std::vector<std::string> dead_motor{"key run, on  M3 dead"};

}  // namespace

TEST_CASE("a load whose return is wired to the battery's own post is asked for no ground") {
    const ProofAnswer answer = proof_of(no_ground, {dead_motor, {"3 new terminal"}, {"key run, on  M3 normal"}});
    CHECK_FALSE(answer.proved);
    for (const ProofCheck& check : answer.checks) CHECK(check.sort != CheckSort::ground);
    CHECK(check_at(answer, "feed of M3 at on").closes == "on, key run  B1+ to M3.1@2");
    CHECK(check_at(answer, "supply at on").closes == "on, key run  B1+ to B1-");
    CHECK(check_at(answer, "amps of M3 at on").why == "no current was read under load since the repair");
    const ProofAnswer read = proof_of(
        no_ground, {dead_motor, {"3 new terminal"}, {"key run, on  M3 normal", "key run, on  B1+ to B1-  14.05V"}});
    CHECK(check_named(read, "supply at on") == nullptr);
    CHECK(check_at(read, "feed of M3 at on").closes == "on, key run  M3.1@2 to B1-");
}

TEST_CASE("current without a limit of the file is held against the nameplate") {
    // 9 A at 13.5 V by its plate; at 14.05 V a fan's motor takes a little more.
    const auto amps = [](const std::string& read) {
        return proof_of(no_ground, {dead_motor,
                                    {"3 new terminal"},
                                    {"key run, on  M3 normal", "key run, on  B1+ to B1-  14.05V",
                                     "key run, on  clamp 2  " + read}});
    };
    const ProofAnswer well = amps("9.3A");
    CHECK(check_at(well, "amps of M3 at on").result == CheckResult::passed);
    CHECK(check_at(well, "amps of M3 at on").limit.ends_with("(nameplate)"));
    const ProofAnswer dragging = amps("16A");
    CHECK(check_at(dragging, "amps of M3 at on").result == CheckResult::failed);
}

TEST_CASE("a limit of amperes without its supply is held at the nameplate's volts") {
    const auto with_limit = [](const std::string& limit, const std::string& read) {
        return proof_of(
            no_ground + "[limits]\non.amps = \"" + limit + "\"\n",
            {dead_motor,
             {"3 new terminal"},
             {"key run, on  M3 normal", "key run, on  B1+ to B1-  14.05V", "key run, on  clamp 2  " + read}});
    };
    const ProofCheck most = check_at(with_limit("10A", "9.3A"), "amps of M3 at on");
    CHECK(most.limit == "10 A at most");
    CHECK(most.result == CheckResult::passed);
    CHECK(most.why.find("at 13.5 V") != std::string::npos);
    const ProofCheck too_much = check_at(with_limit("10A", "12A"), "amps of M3 at on");
    CHECK(too_much.result == CheckResult::failed);
    CHECK(too_much.why.find("too much") != std::string::npos);
    const ProofCheck range = check_at(with_limit("8-10A @13.5V", "6A"), "amps of M3 at on");
    CHECK(range.limit == "8 to 10 A at 13.5 V");
    CHECK(range.why.find("too little") != std::string::npos);
}

TEST_CASE("the load's whole way back within the ground's limit passes for the ground") {
    const Told told{{"key run, seat on  H1 dead"},
                    {"G1 cleaned"},
                    {"key run, seat on  H1 normal", "key run, seat on  B1+ to B1-  14.05V"}};
    const auto with = [&](const std::string& reading) {
        Told all = told;
        all.after.push_back(reading);
        return proof_of(lamps, all);
    };
    CHECK(check_at(with("key run, seat on  H1.2 to B1-  0.06V"), "ground G1 at S2=on").result == CheckResult::passed);
    // More than the limit over wire and ground together does not say that it is the ground.
    CHECK(check_at(with("key run, seat on  H1.2 to B1-  0.4V"), "ground G1 at S2=on").result == CheckResult::open);
    CHECK(check_at(with("key run, seat on  G1 to B1-  0.4V"), "ground G1 at S2=on").result == CheckResult::failed);
    // A range is no figure.
    CHECK(check_at(with("key run, seat on  G1 to B1-  0.02-0.3V"), "ground G1 at S2=on").result == CheckResult::open);
}

TEST_CASE("each load that the concern is about is proved by itself, and no other one") {
    const ProofAnswer answer =
        proof_of(lamps, {{"park  L1 out", "main  L2 out"}, {"F1 contact cleaned"}, {"park  L1 normal"}});
    CHECK(check_at(answer, "L1 at S1=park").result == CheckResult::passed);
    CHECK(check_at(answer, "L2 at S1=main").result == CheckResult::open);
    CHECK(check_at(answer, "L2 at S1=main").before == "out");
    CHECK(check_named(answer, "H1 at S2=on") == nullptr);
    const ProofAnswer all = proof_of(lamps, {{"F1.2 to B1-  12.6V"}, {"F1 contact cleaned"}, {}});
    CHECK(check_named(all, "H1 at S2=on") != nullptr);
}

TEST_CASE("what is open is asked for one test after the other, and what is to be written down is none") {
    const auto circuit = circuit_of(lamps);
    const auto tests = [&](const Told& told) {
        const Job job = job_of_all(*circuit, told);
        std::string text;
        for (const Test& test : tests_to_prove(*circuit, prove(solver(), *circuit, job)))
            text += write_test(*circuit, test) + "; ";
        return text;
    };
    const std::string unsaid = tests({{"park  L1 out"}, {}, {}});
    CHECK(unsaid.find("[repaired]") == std::string::npos);
    CHECK(unsaid.find("S1=park, key run  L1;") != std::string::npos);
    const std::string blown = tests({{"park  L1 out", "fuse F1 blown"}, {"F1 new fuse"}, {"park  L1 normal"}});
    CHECK(blown.find("fuse F1;") != std::string::npos);
    CHECK(blown.find("find what blew it") == std::string::npos);
}

TEST_CASE("a battery may have any name: what is asked for is named by its posts") {
    std::string text = no_ground;
    for (auto at = text.find("B1"); at != std::string::npos; at = text.find("B1", at + 3)) text.replace(at, 2, "BT1");
    const ProofAnswer answer = proof_of(text, {dead_motor, {"3 new terminal"}, {"key run, on  M3 normal"}});
    CHECK(check_at(answer, "supply at on").closes == "on, key run  BT1+ to BT1-");
    CHECK(check_at(answer, "feed of M3 at on").closes == "on, key run  BT1+ to M3.1@2");
    const ProofAnswer read = proof_of(
        text, {dead_motor,
               {"3 new terminal"},
               {"key run, on  M3 normal", "key run, on  BT1+ to BT1-  14.05V", "key run, on  BT1+ to M3.1  0.2V"}});
    CHECK(check_at(read, "feed of M3 at on").result == CheckResult::passed);
}

TEST_CASE("a load that draws nothing in any position is asked for no current") {
    const ProofAnswer answer = proof_of(testing::fan_that_rests, {{"on  M1 runs"}, {"P1 new"}, {}});
    CHECK_FALSE(answer.proved);
    for (const ProofCheck& check : answer.checks) CHECK(check.sort != CheckSort::amps);
    CHECK(check_at(answer, "M1 at on").result == CheckResult::open);
}
