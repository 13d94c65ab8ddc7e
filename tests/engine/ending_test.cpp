// When testing ends: what a test may save against what it costs, and what is named where nothing more pays.
#include "engine/planning/ending.hpp"

#include <algorithm>

#include "engine/planning/next.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::shared_ptr<const Circuit> bookmobile(const std::string& name) {
    const CircuitReading read = read_circuit_file(std::string(PROJECT_DIR "/scenarios/bookmobile/") + name);
    REQUIRE(read.circuit);
    return read.circuit;
}

}  // namespace

TEST_CASE("a test is worth its minutes while they are less than what its share of the doubt costs") {
    // Of two repairs one is wrong in 1 of 10 cases: 0.1 x 100 minutes. The doubt is H(0.1) = 0.469 bit.
    const std::vector<double> shares{0.9, 0.1};
    const auto worth = [&](double bits, double minutes) -> bool {
        const std::vector<TestOffer> offers{{bits, minutes, minutes, {}}};
        return worth_their_minutes(shares, offers, 100).front();
    };
    CHECK(worth(0.469, 9.9));
    CHECK_FALSE(worth(0.469, 10.1));
    CHECK(worth(0.2345, 4.9));
    CHECK_FALSE(worth(0.2345, 5.1));
    // More bits than there is doubt save no more than all of it.
    CHECK_FALSE(worth(5, 10.1));
    // Where nothing is in doubt nothing is worth a minute.
    const std::vector<TestOffer> cheap{{0.1, 0.1, 0.1, {}}};
    CHECK_FALSE(worth_their_minutes(std::vector<double>{1.0}, cheap, 100).front());
}

TEST_CASE("what is opened for a test that tells little is worth it for the tests behind it") {
    const std::vector<double> shares{0.5, 0.5};  // 50 minutes at stake, 1 bit
    const TestOffer opens{0.1, 11, 1, {7}};
    const TestOffer behind{0.3, 11, 1, {7}};
    const TestOffer elsewhere{0.3, 11, 1, {8}};
    const auto first = [&](const std::vector<TestOffer>& offers) -> bool {
        return worth_their_minutes(shares, offers, 100).front();
    };
    CHECK_FALSE(first({opens}));             // 5 minutes saved of 11
    CHECK(first({opens, behind}));           // 20 of 12
    CHECK_FALSE(first({opens, elsewhere}));  // that opens another place
}

TEST_CASE("testing ends with all repairs named where the tests that part them cost more than they save") {
    // A bridge of 631 and 650, sought for an hour by lamp, ohms and looks: either of two plugs, or the wire between
    // them.
    const auto rear = bookmobile("rear-blower.toml");
    const NextAnswer answer = next_tests(
        solver(), *rear,
        job_of(*rear, {"off, key on M2 dead", "lo,med,hi, key run M2 dead", "lo, key run C313.3 to B1- 0.0V",
                       "hi, key run C313.C to B1- 0.0V", "hi, key run, lamp in F9 F9.1 to F9.2 13.92V",
                       "off, key on F9.1 to F9.2 31.2mV", "off, key off, unplug C211 C211.1@631:1 to B1- open",
                       "hi, key run, unplug C211, lamp in F9 F9.1 to F9.2 0.0mV",
                       "hi, key run, unplug C311, lamp in F9 F9.1 to F9.2 13.85V", "look C311 clean",
                       "off, key off, unplug C211 C211.1@631:2 to B1- open", "look C211 clean",
                       "off, key off, unplug C211 C211.2@650 to B1- open", "look 631:2 clean",
                       "off, key off, unplug C311 C311.1 to B1- 0.3ohm", "look 631:1 melted",
                       "hi, key run, lamp in F9 C211.1@631:2 to C311.1 0.4mV",
                       "hi, key run, lamp in F9 C311.2 to C211.2@650 2.4mV"}));
    INFO(all_tests(answer, *rear));
    REQUIRE(answer.stop);
    INFO(answer.stop->why);
    std::vector<std::string> repairs = answer.stop->repairs;
    std::sort(repairs.begin(), repairs.end());
    CHECK(repairs == std::vector<std::string>{"631", "C211", "C311"});
    CHECK(answer.stop->probability > 0.9);
    CHECK(answer.stop->why.find("no test that is left is worth its minutes to part") != std::string::npos);
}

TEST_CASE("a cheap test is still worth it where the leading repair has 96 in 100") {
    // 0.04 x 360 = 14.4 minutes are at stake; the doubt is H(0.04) = 0.242 bit, of which a glance takes a tenth.
    const std::vector<double> shares{0.96, 0.04};
    const std::vector<TestOffer> offers{{0.0242, 1.4, 1.4, {}}, {0.0242, 1.5, 1.5, {}}};
    CHECK(worth_their_minutes(shares, offers, 360) == std::vector<bool>{true, false});
}

TEST_CASE("a second reading of the same volts tells little more") {
    const std::vector<std::string> told{"lo,ml,mh,hi blower normal", "hi, key run clamp 541 14.3A"};
    const auto bits_of = [&](const std::vector<std::string>& readings, const std::string& test) {
        const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), readings));
        const std::size_t at = position_of(answer, test);
        return at < answer.tests.size() ? answer.tests[at].bits : 0.0;
    };
    const double before = bits_of(told, "C304.1 to C304.2");
    REQUIRE(before > 0.2);
    std::vector<std::string> read = told;
    read.emplace_back("hi, key run C304.1 to C304.2 13.2V");
    // C304.1 to the battery's post: the same volts, less the ground's tenth.
    for (const char* again : {"hi  C304.1 to B1-", "hi  K3.30"}) {
        INFO(again);
        CHECK(bits_of(read, again) < before / 2);
    }
}

TEST_CASE("where a new fuse has gone too, the lamp and the plugs are still asked") {
    const auto lorry = bookmobile("lorry-fan.toml");
    const std::vector<std::string> told{"lo,hi fan dead", "hi, key run, lamp in F21 F21.1 to F21.2 27.8V",
                                        "look 804 clean", "look 803 clean"};
    const NextAnswer before = next_tests(solver(), *lorry, job_of(*lorry, told));
    INFO(all_tests(before, *lorry));
    REQUIRE(position_of(before, "unplug C802, lamp in F21", *lorry) < before.tests.size());
    std::vector<std::string> renewed = told;
    renewed.emplace_back("hi, key run, new F21 fan dead");
    const NextAnswer after = next_tests(solver(), *lorry, job_of(*lorry, renewed));
    INFO(all_tests(after, *lorry));
    CHECK(position_of(after, "lamp in F21", *lorry) < after.tests.size());
}
