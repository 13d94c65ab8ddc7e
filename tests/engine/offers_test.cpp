// Which tests are offered and with what warnings: conditions made, lamps in seats, what has been read the other way
// round, plans of few tests; and what a known circuit need not be solved for again.
#include <cmath>

#include "engine/courses/consequences.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/planning/lamp_sections.hpp"
#include "engine/planning/made_conditions.hpp"
#include "engine/planning/ohms_offers.hpp"
#include "engine/planning/plan.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using voltfall::faults_named;
using voltfall::state_named;

namespace {

/// A lamp behind a fuse, whose wires are written from the lamp to the fuse.
std::string written_backwards_text() {
    return R"(format = 1
name = "reading lamp"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
F2 = "fuse 10A mini, feed 30"
C1 = "connector, 2 way"
S1 = "switch C: off on=1"
L1 = "lamp 21W"
G1 = "ground stud"
[wires]
1 = "C1.1 > F1.2 1mm2 RD 1m"
2 = "S1.C > C1.1 1mm2 RD 1m"
3 = "L1.1 > S1.1 1mm2 RD 1m"
4 = "G1 > L1.2 1mm2 BK 1m"
[controls]
S1 = "lamp"
)";
}
const Circuit& written_backwards() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(written_backwards_text());
    return *circuit;
}

/// Two blowers side by side, each with a pack and a limiter of its own.
const Circuit& two_packs() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
name = "front and rear blower"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 40A maxi, feed 30"
F2 = "fuse 40A maxi, feed 30"
S1 = "switch C: off lo=1 mh=2 hi=3"
S2 = "switch C: off low=1 mid=2 high=3"
R1 = "pack 1 0.8ohm 2 0.5ohm 3, limiter 121C"
R2 = "pack 1 0.8ohm 2 0.5ohm 3, limiter 121C"
M1 = "motor 20A @13.5V, 3500rpm, stall 80A"
M2 = "motor 20A @13.5V, 3500rpm, stall 80A"
G1 = "ground stud"
[wires]
11 = "F1.2 > M1.1 6mm2 RD 1m"
12 = "M1.2 > R1.3 6mm2 OG 0.3m"
13 = "R1.1 > S1.1 2.5mm2 YE 1m"
14 = "R1.2 > S1.2 2.5mm2 BU 1m"
15 = "R1.3 > S1.3 6mm2 GN 1m"
16 = "S1.C > G1 6mm2 BK 0.5m"
21 = "F2.2 > M2.1 6mm2 RD 1m"
22 = "M2.2 > R2.3 6mm2 OG 0.3m"
23 = "R2.1 > S2.1 2.5mm2 YE 1m"
24 = "R2.2 > S2.2 2.5mm2 BU 1m"
25 = "R2.3 > S2.3 6mm2 GN 1m"
26 = "S2.C > G1 6mm2 BK 0.5m"
[controls]
S1 = "front"
S2 = "rear"
)");
    return *circuit;
}

std::vector<Trigger> offered(const std::vector<std::string>& told) {
    const Job job = job_of(cab_blower(), told);
    const auto weighed = weigh(solver(), cab_blower(), job, {});
    std::vector<Trigger> triggers;
    for (const MadeCondition& made : conditions_to_make(job, *weighed, {})) triggers.push_back(made.trigger);
    return triggers;
}

bool has(const std::vector<Trigger>& list, Trigger trigger) {
    return std::find(list.begin(), list.end(), trigger) != list.end();
}

MatchAnswer matched_with(const Circuit& circuit, const std::vector<std::string>& readings, std::size_t keep = 2000) {
    MatchOptions options;
    options.keep = keep;
    return match(solver(), circuit, job_of(circuit, readings), options);
}

}  // namespace

TEST_CASE("the condition that is told is offered, and not again once somebody has looked in it") {
    const std::string all_well = "lo,ml,mh,hi  blower normal";
    const struct {
        const char* word;
        Trigger trigger;
    } rows[] = {{"hot", Trigger::heat}, {"cold", Trigger::cold}, {"wet", Trigger::water}, {"bump", Trigger::movement}};
    for (const auto& [word, trigger] : rows) {
        INFO(word);
        const std::string told = std::string("sometimes, ") + word + ", lo,ml,mh,hi  blower dead";
        CHECK(has(offered({told, all_well}), trigger));
        CHECK_FALSE(has(offered({told, all_well, std::string(word) + ", lo,ml,mh,hi  blower normal"}), trigger));
        // What waits for it lasts as long as the condition must be kept.
        CHECK(minutes_to_keep(trigger) >= 0);
        CHECK((seconds_run(trigger) > 0) == (trigger == Trigger::heat));
        // It is made with its own warning.
        TestCandidate test;
        test.kind = TestKind::load;
        test.makes = trigger;
        const std::vector<std::string> lines = cautions_of(cab_blower(), {}, test, default_states(cab_blower()).back());
        REQUIRE_FALSE(lines.empty());
        CHECK(lines.front().starts_with("warning: "));
    }
    CHECK(minutes_to_keep(Trigger::cold) > minutes_to_keep(Trigger::water));
    CHECK(minutes_to_keep(Trigger::itself) == 0);
}

TEST_CASE("where a second look in the condition is well the fault is away again, in another position it need not be") {
    const std::string told = "sometimes, hot, lo,ml,mh,hi  blower dead";
    const auto now = [&](const std::vector<std::string>& more) {
        std::vector<std::string> all{told, "lo,ml,mh,hi  blower normal", "hot, hi  blower dead"};
        all.insert(all.end(), more.begin(), more.end());
        const Job job = job_of(cab_blower(), all);
        return condition_now(job, *weigh(solver(), cab_blower(), job, {}));
    };
    CHECK(now({}) == Trigger::heat);
    CHECK(now({"hot, lo  blower normal"}) == Trigger::heat);
    CHECK_FALSE(now({"hot, hi  blower normal"}));
    // A look in no condition, or in another one, tells nothing of this one.
    CHECK(now({"cold, hi  blower normal"}) == Trigger::heat);
}

TEST_CASE("a lamp's millivolts are told from the fuse on, however its wires are written") {
    const Circuit& circuit = written_backwards();
    State state = state_named(circuit, "off");
    state.lamp_in = {circuit.find_part("F1")};
    const auto lamp = lamp_sections(solver(), circuit, state);
    REQUIRE(lamp);
    CHECK(lamp->fuse == "F1");
    REQUIRE(lamp->sections.size() >= 2);
    for (const LampSections::Short& row : lamp->shorts) {
        INFO(row.fault);
        CHECK(row.lamp_volts > 1);
        // Current runs from the fuse to the short: no section has it the other way round.
        for (const double millivolts : row.millivolts) CHECK(millivolts > -0.01);
    }
    const auto first_of_fault = [&](const std::string& fault) {
        const auto row = std::find_if(lamp->shorts.begin(), lamp->shorts.end(),
                                      [&](const LampSections::Short& one) { return one.fault.starts_with(fault); });
        REQUIRE(row != lamp->shorts.end());
        return row->millivolts.front();
    };
    CHECK(first_of_fault("2 chafe") > 1.8 * first_of_fault("1 chafe"));
    // What hangs behind the open switch is not fed, and a fuse that nothing hangs on has no sections.
    for (const LampSections::Short& row : lamp->shorts) CHECK_FALSE(row.fault.starts_with("3 "));
    State nothing_behind = state_named(circuit, "off");
    nothing_behind.lamp_in = {circuit.find_part("F2")};
    CHECK_FALSE(lamp_sections(solver(), circuit, nothing_behind));
    // A breaker has no blades: its wire begins where the lamp does.
    std::string text = written_backwards_text();
    const std::string fuse = "fuse 10A mini, feed 30\"\nF2";
    text.replace(text.find(fuse), fuse.size(), "breaker 20A, feed 30\"\nF2");
    const auto breaker = circuit_of(text);
    const auto beside = lamp_sections(solver(), *breaker, state);
    REQUIRE(beside);
    CHECK(beside->sections.size() == lamp->sections.size());
    CHECK(beside->shorts.size() == lamp->shorts.size());
    // With its connector off no short behind it lights the lamp.
    State unplugged = state;
    unplugged.unplugged = {"C1"};
    const auto near = lamp_sections(solver(), circuit, unplugged);
    REQUIRE(near);
    for (const LampSections::Short& row : near->shorts) CHECK(row.fault.starts_with("1 "));
}

TEST_CASE("volts that were read with the leads the other way round are not asked for again") {
    const std::vector<std::string> told{"lo,ml,mh  blower normal", "key run, hi  blower slow",
                                        "key run, hi  B1+ to B1- 14.1V"};
    const auto offers = [&](const std::string& more) {
        std::vector<std::string> all = told;
        all.push_back(more);
        const Job job = job_of(cab_blower(), all);
        const Outlook outlook(solver(), cab_blower(), job, {});
        return std::any_of(outlook.future.tests.begin(), outlook.future.tests.end(), [](const TestCandidate& test) {
            return write_test(cab_blower(), test.test) == "hi  C304.1 to C304.2";
        });
    };
    REQUIRE(offers("key run, hi  F7.2 to B1- 14.0V"));
    CHECK_FALSE(offers("key run, hi  C304.1 to C304.2 9.9V"));
    CHECK_FALSE(offers("key run, hi  C304.2 to C304.1 -9.9V"));
    // One of two meanings is no reading of the points.
    CHECK(offers("key run, hi  C304.1 to ? 9.9V"));
}

TEST_CASE("ohms that were read in that setting are not offered again, those of another setting are") {
    const auto offers = [](const std::vector<std::string>& more, const std::string& wanted) {
        std::vector<std::string> told{"lo,ml,mh,hi  blower dead"};
        told.insert(told.end(), more.begin(), more.end());
        const Job job = job_of(cab_blower(), told);
        const auto weighed = weigh(solver(), cab_blower(), job, {});
        int count = 0;
        for (const OhmsOffer& offer : ohms_offers(solver(), cab_blower(), job, *weighed))
            count += write_test(cab_blower(), {offer.phrase, offer.tested}) == wanted;
        return count;
    };
    const struct {
        const char* test;
        const char* same;
        const char* other;
    } rows[] = {{"off, pull K3  ohms K3.86 to K3.85", "off, pull K3  K3.85 to K3.86 90ohm",
                 "off, pull K3  K3.30 to K3.87 open"},
                {"lo, unplug C305  ohms S1.C to S1.1", "lo, unplug C305  S1.1 to S1.C 0.1ohm",
                 "off, unplug C305  S1.1 to S1.C open"},
                {"off, unplug C304  ohms M1.1 to M1.2", "off, unplug C304  M1.2 to M1.1 0.2ohm",
                 "off, unplug C101  M1.1 to M1.2 0.2ohm"},
                {"off, unplug C304  ohms M1.1 to M1.2", "off, unplug C304  M1.1 to M1.2 0.3ohm",
                 "off, unplug C101  M1.1 to C101.4 open"},
                {"off, unplug C304  ohms M1.1 to M1.2", "off, unplug C304  M1.1 to M1.2 0.2ohm",
                 "off, unplug C101  C101.4 to B1- open"}};
    for (const auto& [test, same, other] : rows) {
        INFO(test);
        CHECK(offers({}, test) == 1);
        CHECK(offers({same}, test) == 0);
        CHECK(offers({other}, test) == 1);
    }
}

TEST_CASE("a plan of few tests has as many as it may have") {
    const Job job = job_of(cab_blower(), {"lo,ml,mh,hi  blower slow", "key run, hi  B1+ to B1- 14.1V"});
    for (const std::size_t most : {2u, 4u})
        CHECK(sequencing_problem(solver(), cab_blower(), job, {}, most).tests.size() == most);
    CHECK(sequencing_problem(solver(), cab_blower(), job, {}, 1000).tests.size() < 1000);
}

TEST_CASE("a held motor opens the limiter of its own pack, once, and not the other one's") {
    const Circuit& circuit = two_packs();
    const Consequences consequences(solver(), circuit);
    for (const char* number : {"1", "2"}) {
        const std::vector<Fault> faults = faults_named(circuit, std::string("M") + number + " seized");
        const std::vector<Fault> opened = consequences.of(faults.front());
        REQUIRE(opened.size() == 1);
        CHECK(opened.front().mode->phrase() == std::string("R") + number + " limiter open");
    }
    // Two dead packs: each limiter may have been opened by the motor behind it.
    const MatchAnswer answer = matched_with(circuit, {"low,mid  M2 dead", "high  M2 normal"});
    const auto limiter = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                      [](const Candidate& one) { return one.fault == "R2 limiter open"; });
    REQUIRE(limiter != answer.candidates.end());
    for (const LikelyCause& cause : limiter->caused_by) CHECK(cause.place == "M2");
}

TEST_CASE("an answer that is kept short has the same leading suspects as a long one") {
    const std::vector<std::string> told{"lo,ml,mh  blower dead", "hi  blower normal"};
    const MatchAnswer all = matched_with(cab_blower(), told);
    const MatchAnswer one = matched_with(cab_blower(), told, 1);
    REQUIRE(one.candidates.size() < all.candidates.size());
    CHECK(one.candidates.front().fault == all.candidates.front().fault);
    CHECK(one.candidates.front().probability == Approx(all.candidates.front().probability));
}

TEST_CASE("a circuit that is known need not be solved again for the same readings") {
    Dictionary dictionary(solver(), cab_blower());
    MatchOptions options;
    options.dictionary = &dictionary;
    const Job job = job_of(cab_blower(), {"lo,ml,mh  blower dead", "key run, hi  M1.1 to B1- 14.0V"});
    const auto first = weigh(solver(), cab_blower(), job, options);
    const Dictionary::Counters once = dictionary.counters();
    CHECK(once.solved > 0);
    CHECK(once.bytes > 0);
    const auto second = weigh(solver(), cab_blower(), job, options);
    const Dictionary::Counters twice = dictionary.counters();
    CHECK(twice.solved == once.solved);
    CHECK(twice.bytes == once.bytes);
    CHECK(twice.found > once.found);
    REQUIRE(first->suspects.size() == second->suspects.size());
    for (std::size_t i = 0; i < first->suspects.size(); ++i)
        CHECK(second->suspects[i].probability == Approx(first->suspects[i].probability).margin(1e-9));
}

TEST_CASE("a tap speaks of a part where it was done in a position that was told of, whatever else was told") {
    const auto motor = [](const std::vector<std::string>& told) { return at(matched_with(cab_blower(), told), "M1"); };
    const std::string tap = "hi, tap M1  blower runs";
    const double beside = motor({"sometimes, lo,ml,mh,hi  blower dead", tap});
    // Told of other positions, or of none, the tap has no look beside it.
    CHECK(motor({"sometimes, lo,ml  blower dead", tap}) < beside);
    CHECK(motor({"sometimes, blower dead", tap}) < beside);
    // A tap that changed nothing is no look that the next one changes.
    CHECK(motor({"sometimes, lo,ml,mh,hi  blower dead", "hi, tap M1  blower dead", tap}) < beside);
    const Circuit& two = two_controls();
    const auto first_motor = [&](const std::string& told) {
        return at(matched_with(two, {told, "S1=hi, tap M1  M1 runs"}), "M1");
    };
    CHECK(first_motor("sometimes, S1=hi  M1 dead") > first_motor("sometimes, S2=hi  M1 dead"));
}

TEST_CASE("volts that change while a plug is wiggled speak of that plug, in whatever order they were read") {
    const auto plug = [](const std::vector<std::string>& told) { return at(matched_with(cab_blower(), told), "C101"); };
    const std::string dead = "key run, hi, wiggle C101  M1.1 to B1- 0.0V";
    const std::string well = "key run, hi  M1.1 to B1- 14.0V";
    const double alone = plug({well});
    CHECK(plug({well, dead}) > 3 * alone);
    CHECK(plug({dead, well}) > 3 * alone);
}

TEST_CASE("a reason names the points as they were typed") {
    const MatchAnswer answer = matched_with(
        cab_blower(), {"key run, hi  B1+ to B1- 14.10V", "key run, hi  M1.1 to ? 10.2V", "lo,ml,mh  blower normal"}, 3);
    bool named = false;
    for (const Candidate& one : answer.candidates) {
        for (const std::string& line : one.because)
            named |= line.find("10.2 V from M1.1 to ? fits") != std::string::npos;
    }
    CHECK(named);
}
