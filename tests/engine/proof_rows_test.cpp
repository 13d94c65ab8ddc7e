// Proofs as rows: what a job tells, and what one check of its proof then says.
#include <algorithm>

#include "engine/proof/proof.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::circuit_of;

namespace {

ProofAnswer answer_of(const std::string& body, const std::string& circuit = "cab-blower.toml",
                      const std::string& concern = "weak air") {
    const std::string text = "format = 1\ncircuit = \"" + circuit + "\"\nconcern = \"" + concern + "\"\n" + body;
    const JobReading reading = read_job_text(text, std::string(PROJECT_DIR) + "/scenarios/bookmobile/made.job.toml");
    std::string problems;
    for (const Problem& problem : reading.problems.list()) problems += problem.message + "\n";
    INFO(body << "\n" << problems);
    REQUIRE(reading.job);
    return prove(solver(), *reading.circuit, *reading.job);
}

struct Row {
    std::string body;
    std::string check;   ///< of the proof
    std::string result;  ///< as it is told
    std::string words;   ///< stand in what was read, why, or what closes it
};

void check_rows(const std::vector<Row>& rows) {
    for (const Row& row : rows) {
        const ProofAnswer answer = answer_of(row.body);
        std::string all;
        for (const ProofCheck& check : answer.checks) all += check.what + "; ";
        INFO(row.body << "\n" << row.check << " in " << all);
        const auto found = std::find_if(answer.checks.begin(), answer.checks.end(),
                                        [&](const ProofCheck& check) { return check.what == row.check; });
        REQUIRE(found != answer.checks.end());
        CHECK(std::string(word_of(found->result)) == row.result);
        const std::string said =
            found->before + " | " + found->after + " | " + found->limit + " | " + found->why + " | " + found->closes;
        INFO(said);
        CHECK(said.find(row.words) != std::string::npos);
    }
}

const std::string weak =
    "[readings]\n1 = \"key run, ml,mh,hi  blower slow\"\n2 = \"key run, hi  B1+ to B1-  14.10V\"\n"
    "3 = \"key run, hi  M1.1 to B1-  10.20V\"\n4 = \"key run, hi  clamp 542  12.4A\"\n"
    "5 = \"key run, hi  across C101.4  3.61V\"\n";
const std::string pin = "[repaired]\nC101.4 = \"new\"\n";
const std::string dead_pack =
    "[readings]\n1 = \"lo,ml,mh  M1 dead\"\n2 = \"hi  M1 normal\"\n3 = \"unplug C303  R1.1 to R1.4  OL\"\n";
const std::string new_pack = dead_pack + "[repaired]\nR1 = \"new pack\"\n";
const std::string every = "[after]\n1 = \"lo,ml,mh,hi  blower normal\"\n";
const std::string loaded =
    "2 = \"key run, hi  B1+ to B1-  14.05V\"\n3 = \"key run, hi  M1.1 to B1-  13.70V\"\n"
    "4 = \"key run, hi  clamp 542  20.3A\"\n5 = \"key run, hi  G201 to B1-  0.03V\"\n";
const std::string in_third = "2 = \"key run, mh B1+ to B1- 14.05V\"\n3 = \"key run, mh clamp 542 11.6A\"\n";

/// Nothing switches the lamp.
const std::string unswitched = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
L1 = "lamp 21W"
G1 = "ground"
[wires]
1 = "F1.2 > L1.1 1mm2 RD 1m"
3 = "L1.2 > G1 1mm2 BK 1m"
)";
/// Either of two switches lights it.
const std::string two_switches = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
S1 = "switch C: off a=1 b=1"
S2 = "switch C: off c=1"
L1 = "lamp 21W"
G1 = "ground"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "F1.2 > S2.C 1mm2 RD 1m"
4 = "S1.1 > L1.1 1mm2 RD 1m"
5 = "S2.1 > L1.1 1mm2 RD 1m"
3 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S1 = "one"
S2 = "other"
)";

ProofAnswer lamp_proof(const std::string& circuit, const std::vector<std::string>& after) {
    const auto lamp = circuit_of(circuit);
    Job job = voltfall::testing::job_of(*lamp, {"L1 out"});
    Problems problems;
    add_repaired(job, *lamp, TypedText::argument("", "1 new wire"), problems);
    for (const std::string& reading : after) add_reading_after(job, *lamp, TypedText::argument("", reading), problems);
    REQUIRE_FALSE(problems.has_errors());
    return prove(solver(), *lamp, job);
}

}  // namespace

TEST_CASE("what burnt wants its cause named, or a current that is within the limits") {
    const std::string burnt = "[readings]\n1 = \"hi M1 dead\"\n2 = \"look K3 burnt\"\n[repaired]\nK3 = \"new relay\"\n";
    check_rows({
        {burnt + every, "why K3 burnt", "open", "K3 is what failed, not why it did; M1 seized"},
        {burnt + every, "why K3 burnt", "open", "hi, key run  clamp 541"},
        {burnt + every + loaded, "why K3 burnt", "passed", "what it carries is within the limits now"},
        {burnt + "M1 = \"new motor, it dragged\"\n" + every, "why K3 burnt", "passed", "does that to K3"},
        {burnt + "G202 = \"cleaned\"\n" + every, "why K3 burnt", "open", "not why it did"},
    });
}

TEST_CASE("a pack's killer is excluded by the motor's current and the air over it, by both") {
    check_rows({
        {new_pack + every, "why R1 failed", "open", "mh, key run  clamp 541"},
        {new_pack + every + in_third, "why R1 failed", "open", "mh, key run  air"},
        {new_pack + every + in_third + "4 = \"key run, mh air normal\"\n", "why R1 failed", "passed",
         "the motor's current and the air over the pack"},
        {new_pack + every + in_third + "4 = \"key run, mh air weak\"\n", "why R1 failed", "open", "mh, key run  air"},
        {new_pack + every + in_third, "amps of M1 at mh", "passed", "about 11.5 A (nameplate)"},
        {new_pack + every + in_third, "with R1: M1 amps", "passed", "read, within the limits"},
        {new_pack + every, "with R1: M1 amps", "open", "clamp 541"},
    });
}

TEST_CASE("what goes with the repair is handled by being renewed, named, felt or looked at") {
    const std::string with = "with R1: C303 plug and pins";
    check_rows({
        {new_pack + every, with, "open", "neither renewed nor looked at"},
        {dead_pack + "[repaired]\nR1 = \"new pack, C303 plug and pins renewed\"\n" + every, with, "passed", ""},
        {new_pack + "C303 = \"new plug\"\n" + every, with, "passed", ""},
        {new_pack + "C303.4 = \"new pin\"\n" + every, with, "passed", ""},
        {new_pack + every + "2 = \"mh C303 rise 10C\"\n", with, "passed", ""},
        {new_pack + every + "2 = \"R1 good\"\n", with, "passed", ""},
        {new_pack + every + "2 = \"look C101 whole\"\n", with, "open", "look C303"},
    });
}

TEST_CASE("warmth is held against the limit of its own place, risen over the air") {
    const std::string terminal = weak + "[repaired]\nC303.1 = \"new terminal.\"\n" + every + loaded;
    check_rows({
        {terminal + "6 = \"hi C303 temp 60C\"\n7 = \"hi C101 rise 3C\"\n", "warmth of C303", "open", "C303 rise"},
        {terminal + "6 = \"hi C303 rise 20C\"\n", "warmth of C303", "passed", "20C"},
    });
}

TEST_CASE("a current is held against its limit where the supply in its own state was read") {
    check_rows({
        {weak + pin + every + "2 = \"key run, hi  B1+ to B1-  14.05V\"\n3 = \"key on, hi clamp 542 20.3A\"\n",
         "amps of M1 at hi", "open", "hi, key run  clamp 541"},
        {weak + "6 = \"key run, hi G201 to B1- 0.05V\"\n" + pin + every + loaded, "ground G201 at hi", "passed",
         "0.05 V | 0.03 V"},
        {weak + pin + every + "2 = \"hi, pull F12  M1 dead\"\n3 = \"hi, unplug C303  M1 normal\"\n" +
             "4 = \"hi, lamp in F7  M1 dead\"\n",
         "M1 at hi", "passed", "normal"},
    });
}

TEST_CASE("air, relays and fuses that were not well are looked at again, and the worst look counts") {
    const std::string silent =
        "[readings]\n1 = \"hi air none\"\n2 = \"hi air none\"\n3 = \"hi K3 silent\"\n[repaired]\nK3 = \"new\"\n" +
        every;
    check_rows({
        {silent + "2 = \"hi air normal\"\n3 = \"hi air weak\"\n", "hi  air", "FAILED", "none | weak"},
        {silent + "2 = \"hi K3 clicks\"\n", "hi  relay K3", "passed", "silent | clicks"},
        {silent + "2 = \"hi K3 silent\"\n", "hi  relay K3", "FAILED", "silent | silent"},
        {silent + "2 = \"hi K3 silent\"\n", "hi  relay K3", "FAILED", " | hi  relay K3"},
        {silent, "hi  air", "open", "not looked at since the repair"},
        {silent + "2 = \"lo air normal\"\n", "hi  air", "open", "not looked at since the repair"},
        {"[readings]\n1 = \"hi K3 silent\"\n[repaired]\nK3 = \"new\"\n[after]\n1 = \"hi K3 silent\"\n",
         "the fault is gone", "open", "K3 coil open still there"},
    });
}

TEST_CASE("what is told as coming and going, or failed in some of its runs, is counted") {
    const std::string told =
        "[readings]\n1 = \"fuse F7 sometimes-blown\"\n2 = \"sometimes hi air none\"\n3 = \"sometimes hi K3 silent\"\n"
        "[repaired]\n542 = \"sleeved\"\n" +
        every;
    check_rows({
        {told, "comes and goes: fuse F7", "open", "failed 1 of 2 | 0 of 0 | 9 needed"},
        {told, "comes and goes: air", "open", "hi  air"},
        {told, "comes and goes: relay K3", "open", "hi  relay K3"},
        {told, "why F7 blew", "passed", "542 (sleeved): 542 chafe does that to F7"},
        {"[readings]\n1 = \"hi M1 erratic\"\n2 = \"hi M1 dead\"\n3 = \"hi M1 normal\"\n" + pin + every,
         "comes and goes: M1", "open", "failed 2 of 3 runs before, 0 of 1 since"},
        {"[readings]\n1 = \"hi M1 dead\"\n2 = \"hi M1 normal\"\n" + pin + every, "comes and goes: M1", "open",
         "failed 1 of 2"},
        {"[readings]\n1 = \"earlier M1 dead\"\n2 = \"earlier fuse F7 blown\"\n3 = \"hi M1 normal\"\n"
         "[repaired]\nnothing = \"no fault found.\"\n" +
             every,
         "why F7 blew", "open", "a new fuse that holds proves nothing"},
    });
}

TEST_CASE("a part that was fitted before and failed again is asked for its cause; one fitted once is not") {
    const auto of = [](const std::string& fitted) {
        return weak + "[fitted]\nS1 = \"" + fitted + "\"\n" + pin + every;
    };
    for (const char* again : {"second, worked at first", "third", "failed again"})
        check_rows({{of(again), "why S1 burnt", "open", "S1 is what failed, not why it did"}});
    const ProofAnswer once = answer_of(of("today"));
    for (const ProofCheck& check : once.checks) CHECK(check.sort != CheckSort::cause);
    // A fuse that somebody has taken is none that blew.
    const ProofAnswer missing =
        answer_of("[readings]\n1 = \"hi M1 dead\"\n2 = \"fuse F7 missing\"\n[repaired]\n542 = \"sleeved\"\n" + every);
    for (const ProofCheck& check : missing.checks) CHECK(check.sort != CheckSort::cause);
}

TEST_CASE("a lamp's current is held against its limit at the volts of its plate") {
    const ProofAnswer answer =
        lamp_proof(two_switches + "[limits]\na.amps = \"3A\"\n",
                   {"S1=a, key run  L1 lit", "S1=a, key run  B1+ to B1-  14.0V", "S1=a, key run  clamp 1  2.1A"});
    const auto amps = std::find_if(answer.checks.begin(), answer.checks.end(),
                                   [](const ProofCheck& check) { return check.sort == CheckSort::amps; });
    REQUIRE(amps != answer.checks.end());
    CHECK(amps->result == CheckResult::passed);
    CHECK(amps->limit == "3 A at most");
    CHECK(amps->why.find("at 12 V") != std::string::npos);
}

TEST_CASE("a repair without a reading before it is not held against one") {
    const ProofAnswer answer = answer_of(pin + every);
    for (const ProofCheck& check : answer.checks) CHECK(check.sort != CheckSort::repair);
    CHECK_FALSE(answer.proved);
}

TEST_CASE("a load that nothing switches, or that two switches light, is proved in each of its positions") {
    const ProofAnswer always = lamp_proof(unswitched, {"L1 lit", "key run  B1+ to B1-  14.0V"});
    REQUIRE_FALSE(always.checks.empty());
    CHECK(always.checks.front().what == "L1 at key on");
    CHECK(always.checks.front().result == CheckResult::passed);
    const ProofAnswer either = lamp_proof(two_switches, {});
    const auto closes = [&](std::size_t i) { return either.checks.at(i).closes; };
    CHECK(closes(0) == "S1=a, key run  L1");
    CHECK(closes(1) == "S1=b, key run  L1");
    CHECK(closes(2) == "S2=c, key run  L1");
}

TEST_CASE("the words for the order end their sentences once, and name four numbers at most") {
    const ProofAnswer stopped = answer_of(weak + "[repaired]\nC101.4 = \"new terminal.\"\nM1 = \"cleaned.\"\n" + every,
                                          "cab-blower.toml", "weak air.");
    CHECK(stopped.concern_text.starts_with("weak air. Found: "));
    CHECK(stopped.correction_text.starts_with("C101.4: new terminal; M1: cleaned. After it: "));
    const ProofAnswer many =
        answer_of(weak +
                  "6 = \"key run, hi C304.1 to B1- 10.21V\"\n7 = \"key run, mh M1.1 to B1- 11.9V\"\n"
                  "8 = \"key run, hi clamp 541 12.3A\"\n" +
                  pin + every + loaded);
    std::size_t numbers = 0;
    for (auto at = many.cause_text.find("(sound: "); at != std::string::npos;
         at = many.cause_text.find("(sound: ", at + 1))
        ++numbers;
    CHECK(numbers == 4);
    const ProofAnswer unsaid = answer_of(dead_pack);
    CHECK(unsaid.order == std::vector<std::string>{"R1 (likeliest by the readings)", "C303 plug and pins", "M1 amps"});
    CHECK(unsaid.correction_text == "Nothing was mended.");
    const ProofAnswer twice = answer_of(weak + pin + every + "2 = \"hi  blower slow\"\n");
    const auto same = std::find_if(twice.compared.begin(), twice.compared.end(),
                                   [](const BeforeAfter& row) { return row.after == "slow"; });
    CHECK(same != twice.compared.end());
    CHECK(is_still_faulty(twice));
    CHECK_FALSE(is_still_faulty(answer_of(weak + pin + every + loaded)));
    CHECK_FALSE(is_still_faulty(answer_of(weak + pin + every)));
    CHECK(is_still_faulty(answer_of(weak + pin + every + "2 = \"key run, hi  G201 to B1-  0.9V\"\n")));
}
