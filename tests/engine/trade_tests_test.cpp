// Tests that the trade uses beside volts and amperes: a part in the hand, another relay, a new fuse, wiggling.
#include <algorithm>

#include "engine/diagnosis/moments.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::all_tests;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::position_of;
using voltfall::testing::written;

TEST_CASE("with the lamp's word in, a new fuse is fitted once and watched") {
    const std::vector<std::string> told{"fuse F7 blown at hi after 2min", "hi blower dead"};
    std::vector<std::string> with_lamp = told;
    with_lamp.emplace_back("key run, hi, lamp in F7  across F7 13.4V");
    const NextAnswer before = next_tests(solver(), cab_blower(), job_of(cab_blower(), told));
    CHECK(position_of(before, "new F7") == before.tests.size());
    const NextAnswer after = next_tests(solver(), cab_blower(), job_of(cab_blower(), with_lamp));
    INFO(all_tests(after));
    const std::size_t at = position_of(after, "new F7");
    REQUIRE(at < after.tests.size());
    const TestProposal& test = after.tests[at];
    CHECK(std::any_of(test.caution.begin(), test.caution.end(), [](const std::string& line) {
        return line.starts_with("warning: ") && line.find("same rating") != std::string::npos &&
               line.find("once") != std::string::npos;
    }));
    CHECK(test.minutes >= default_value("minutes_watch"));
}

TEST_CASE("behind a fuse that blew again, a lamp is read with that fuse's load switched on") {
    // The last control of this circuit lights a lamp behind another fuse.
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/cases/highside3-shared.toml");
    REQUIRE(read.circuit);
    const Circuit& circuit = *read.circuit;
    const std::vector<std::vector<std::string>> jobs{
        {"lo,med,hi blower dead", "new F1, lo,med,hi fuse F1 blown at once"},
        {"lo,med,hi blower dead", "fuse F1 blown"}};
    for (const auto& readings : jobs) {
        const NextAnswer answer = next_tests(solver(), circuit, job_of(circuit, readings));
        std::size_t in_seat = 0;
        for (const TestProposal& test : answer.tests) {
            const std::string phrase = written(test, circuit);
            INFO(phrase);
            if (phrase.find("lamp in F1") == std::string::npos) continue;
            ++in_seat;
            CHECK(phrase.find("S1=") == 0);
        }
        CHECK(in_seat > 0);
    }
}

TEST_CASE("what should be off is expected off, not dead") {
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/starters/module-pwm.toml");
    REQUIRE(read.circuit);
    const std::vector<PartId> loads = loads_of(*read.circuit);
    const std::string motor = read.circuit->part(loads.front()).name;
    const Job job = job_of(*read.circuit, {"hi " + motor + " normal"});
    const Outlook outlook(solver(), *read.circuit, job, {});
    std::size_t in_off = 0;
    for (const TestCandidate& test : outlook.future.tests) {
        if (test.kind != TestKind::load) continue;
        const bool says_off = test.words.front() == "off";
        const auto at_rest = settle(solver(), *read.circuit, outlook.future.questions.states[test.state].state, {});
        REQUIRE(at_rest);
        const double amps = std::abs(at_rest->point.amps[read.circuit->part(loads.front()).load_branch.index]);
        in_off += says_off;
        CHECK(says_off == (amps < 0.1));
    }
    CHECK(in_off > 0);
}

TEST_CASE("a motor that may drag is turned by hand, once") {
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/cases/highside3-shared.toml");
    REQUIRE(read.circuit);
    const Circuit& circuit = *read.circuit;
    const std::vector<std::string> told{"lo,med,hi blower dead", "new F1, lo,med,hi fuse F1 blown at once"};
    const NextAnswer answer = next_tests(solver(), circuit, job_of(circuit, told));
    INFO(all_tests(answer));
    const std::size_t at = position_of(answer, "look M1");
    REQUIRE(at < answer.tests.size());
    bool stands = false;
    for (const Expectation& expectation : answer.tests[at].expect) {
        const bool rubs = expectation.fault == "M1 seized" || expectation.fault == "M1 drag";
        stands |= rubs;
        CHECK(expectation.word == (rubs ? "stiff" : "turns-freely"));
    }
    CHECK(stands);
    std::vector<std::string> turned = told;
    turned.emplace_back("M1 turns freely by hand");
    const NextAnswer after = next_tests(solver(), circuit, job_of(circuit, turned));
    CHECK(position_of(after, "look M1") == after.tests.size());
}

TEST_CASE("a plug with a poor contact is felt, which the motor behind it does not warm") {
    // 14 A through 0.2 ohm are 39 W in a plug (I2R by hand); brushes that have worn warm the motor.
    const std::vector<std::string> told{"lo,ml,mh,hi blower normal", "key run, hi clamp 541 14.3A",
                                        "key run, mh C304.1 to C304.2 10.04V", "key run, hi C304.2 to B1- 0.14V",
                                        "look C304 clean"};
    const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), told));
    INFO(all_tests(answer));
    const std::size_t at = position_of(answer, "C304 rise");
    REQUIRE(at < 3);
    const TestProposal& test = answer.tests[at];
    for (const Expectation& expectation : test.expect) {
        INFO(expectation.fault);
        if (expectation.fault == "M1 worn-brushes") CHECK(expectation.word != "hot");
        if (expectation.fault.starts_with("C304")) CHECK(expectation.word == "hot");
    }
    CHECK(std::any_of(test.caution.begin(), test.caution.end(), [](const std::string& line) {
        return line.starts_with("warning: ") && line.find("back of the hand") != std::string::npos;
    }));
    const auto leading = [&](const std::string& felt) {
        std::vector<std::string> all = told;
        all.push_back("hi C304 rise " + felt);
        return match(solver(), cab_blower(), job_of(cab_blower(), all)).places.front();
    };
    CHECK(leading("cold").place == "M1");
    CHECK(leading("hot").place == "C304");
    CHECK(leading("cold").probability > 0.9);
}

TEST_CASE("a fuse that is as good as seen open has its lamp proposed, though nobody has looked at it") {
    const std::vector<std::string> told{"lo,ml,mh,hi blower dead",        "key run, lo K3.30 to B1- 0.0V",
                                        "key on, off C304.1 to B1- 0.0V", "key on, off F7.2@541 to B1- 0.0V",
                                        "key run, hi F7.1 to B1- 14.1V",  "key run, hi F7.2@541 to B1- 0.0V"};
    const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), told));
    INFO(all_tests(answer));
    CHECK(position_of(answer, "lamp in F7") < answer.tests.size());
}

TEST_CASE("a relay that is suspected is changed for a like one, a contact of a switch is measured in the hand") {
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/bookmobile/clutch.toml");
    REQUIRE(read.circuit);
    const Circuit& clutch = *read.circuit;
    const NextAnswer dead =
        next_tests(solver(), clutch,
                   job_of(clutch, {"ac A1 dead", "key run, ac K7.30 to B1- 14.1V", "key run, ac K7.87 to B1- 0.0V",
                                   "key run, ac K7.86 to B1- 14.0V", "key run, ac K7.85 to B1- 0.0V"}));
    const auto with = [](const NextAnswer& answer, const Circuit& circuit, std::string_view piece) {
        return std::find_if(answer.tests.begin(), answer.tests.end(), [&](const TestProposal& test) {
            return written(test, circuit).find(piece) != std::string::npos;
        });
    };
    const auto like = with(dead, clutch, "new K7");
    REQUIRE(like != dead.tests.end());
    CHECK(std::any_of(like->caution.begin(), like->caution.end(),
                      [](const std::string& line) { return line.find("switch off first") != std::string::npos; }));

    const NextAnswer one_speed =
        next_tests(solver(), cab_blower(),
                   job_of(cab_blower(), {"ml blower dead", "lo,mh,hi blower normal", "key run, ml S1.2 to B1- 13.9V"}));
    INFO(all_tests(one_speed));
    const auto in_hand = with(one_speed, cab_blower(), "unplug C305  ohms S1.");
    REQUIRE(in_hand != one_speed.tests.end());
    for (const Expectation& expectation : in_hand->expect) {
        if (expectation.fault.starts_with("S1 contact") && expectation.fault.ends_with("open"))
            CHECK(expectation.word == "open");
        if (expectation.fault.starts_with("C305.")) CHECK(expectation.word != "open");
    }
}

TEST_CASE("a fault that comes and goes is looked for by moving what may be loose") {
    const NextAnswer answer =
        next_tests(solver(), cab_blower(),
                   job_of(cab_blower(), {"sometimes lo,ml,mh,hi blower dead", "lo,ml,mh,hi blower normal"}));
    INFO(all_tests(answer));
    CHECK(position_of(answer, "wiggle") < answer.tests.size());
    const auto moves_something = [](const std::vector<std::string>& readings) {
        const Job job = job_of(cab_blower(), readings);
        const MatchOptions options;
        const Outlook outlook(solver(), cab_blower(), job, options);
        REQUIRE_FALSE(outlook.future.tests.empty());
        return std::any_of(outlook.future.tests.begin(), outlook.future.tests.end(), [&](const TestCandidate& test) {
            return !outlook.future.questions.states[test.state].state.handled.empty();
        });
    };
    CHECK(moves_something({"sometimes lo,ml,mh,hi blower dead", "lo,ml,mh,hi blower normal"}));
    CHECK_FALSE(moves_something({"lo,ml,mh,hi blower dead"}));
}

TEST_CASE("a fault that comes and goes and was away just now is mostly away when somebody measures") {
    const Job job = job_of(cab_blower(), {"sometimes lo,ml,mh,hi blower dead", "lo,ml,mh,hi blower normal"});
    const Outlook outlook(solver(), cab_blower(), job, {});
    double away = 0;
    double all = 0;
    for (const Standing& standing : outlook.standings.list) {
        const Suspect& suspect = outlook.suspect(standing.suspect);
        if (suspect.story != Story::intermittent) continue;
        all += standing.weight;
        if (standing.hides) away += standing.weight;
    }
    REQUIRE(all > 0.01);
    CHECK(away / all == Approx(1 - (1 - stays_as_it_is) * 0.5).epsilon(0.02));
    // It was away, and no reading is wrong: the look at the position complained of is not asked for again.
    const NextAnswer next = next_tests(solver(), cab_blower(), job);
    REQUIRE_FALSE(next.tests.empty());
    for (const TestProposal& test : next.tests) CHECK(testing::written(test) != "hi  blower");
}

TEST_CASE("the switch is turned through its positions before anything is opened, where that tells enough") {
    const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), {"lo blower dead"}));
    INFO(all_tests(answer));
    REQUIRE(!answer.tests.empty());
    const TestProposal& first = answer.tests.front();
    CHECK(std::holds_alternative<LoadTest>(first.test.tested));
    CHECK(first.minutes == 0);
    CHECK(first.bits > 0.5);
    // One that tells next to nothing stays where its minutes put it.
    bool costs = false;
    for (const TestProposal& test : answer.tests) {
        costs = costs || test.minutes > 0;
        if (std::holds_alternative<LoadTest>(test.test.tested) && test.minutes == 0 && costs) CHECK(test.bits < 0.6);
    }
}

TEST_CASE("what sits inside a plug and what sits inside the part are told apart with ohms in the hand") {
    const NextAnswer answer =
        next_tests(solver(), cab_blower(),
                   job_of(cab_blower(), {"lo,ml,mh blower dead", "hi blower normal", "key run, hi clamp 541 20.2A",
                                         "key run, mh clamp 541 0.0A"}));
    INFO(all_tests(answer));
    const std::size_t at = position_of(answer, "off, unplug C303  ohms R1.");
    REQUIRE(at < answer.tests.size());
    REQUIRE_FALSE(answer.tests[at].expect.empty());
    CHECK(std::any_of(answer.tests[at].caution.begin(), answer.tests[at].caution.end(),
                      [](const std::string& line) { return line.find("never on a live wire") != std::string::npos; }));
    // An open in the pack reads open; an open pin leaves the pack whole.
    for (const Expectation& expectation : answer.tests[at].expect) {
        if (expectation.fault.starts_with("R1 ")) CHECK(expectation.word == "open");
        if (expectation.fault.starts_with("C303.")) CHECK(expectation.word != "open");
    }
}

TEST_CASE("a fuse with the supply's volts across it counts as blown") {
    const NextAnswer answer =
        next_tests(solver(), cab_blower(), job_of(cab_blower(), {"hi blower dead", "key run, hi F7.1 to F7.2 14.1V"}));
    INFO(all_tests(answer));
    CHECK(position_of(answer, "lamp in F7") < answer.tests.size());
}
