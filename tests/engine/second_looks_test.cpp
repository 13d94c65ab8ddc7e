// What is told of another time, taken twice, or taken where it shows little; and what is said where no test is left.
#include <algorithm>

#include "engine/diagnosis/carried_current.hpp"
#include "engine/planning/blind_readings.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/stop_advice.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/lost_solves.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

StopAdvice advice_without_tests(const std::vector<std::string>& told) {
    const Job job = job_of(cab_blower(), told);
    const Outlook outlook(solver(), cab_blower(), job, {});
    const auto advice = stop_advice(outlook, false);
    REQUIRE(advice);
    return *advice;
}

}  // namespace

TEST_CASE("where nothing is wrong and no test is left the concern is verified again") {
    const StopAdvice advice = advice_without_tests({"lo,ml,mh,hi  blower normal", "key run, hi  M1.1 to M1.2 13.45V"});
    CHECK(advice.nothing);
    CHECK(advice.repairs.empty());
    CHECK(advice.why == "nothing that these tests can find is wrong; verify the concern again");
    // That all is well is no repair to be tried beside others.
    const StopAdvice dead = advice_without_tests({"sometimes, hi  blower dead", "lo,ml,mh,hi  blower normal"});
    CHECK_FALSE(dead.nothing);
    CHECK_FALSE(dead.repairs.empty());
    for (const std::string& repair : dead.repairs) CHECK(repair != "nothing");
}

TEST_CASE("volts in front of a small lamp show no poor contact inside it, and a note says so") {
    const auto circuit = circuit_of(R"(format = 1
name = "marker lamp"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
C1 = "connector, 2 way"
S1 = "switch C: off on=1"
L1 = "lamp 2W"
G1 = "ground stud"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > C1.1 1mm2 RD 1m"
3 = "C1.1 > L1.1 1mm2 RD 1m"
4 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S1 = "marker"
)");
    const Job job = job_of(*circuit, {"on  L1 weak", "on  L1.1 to B1- 11.8V"});
    const auto notes = blind_readings(solver(), *weigh(solver(), *circuit, job, {}));
    REQUIRE(notes.size() == 1);
    INFO(notes.front());
    CHECK(notes.front().starts_with("reading 2 was taken with next to no current"));
    CHECK(notes.front().find("it could have shown its resistance at no size") != std::string::npos);
}

TEST_CASE("a pressure that was read earlier, or is doubted, is read again") {
    const auto circuit = scenario_circuit("clutch.toml");
    const auto asks = [&](const std::string& gauge) {
        std::vector<std::string> told{"key run, ac  clutch dead", "key run, ac  B1+ to B1- 14.2V",
                                      "key run, ac  P1.1 to B1- 14.1V", "key run, ac  P1.2 to B1- 0V"};
        if (!gauge.empty()) told.push_back(gauge);
        const NextAnswer answer = next_tests(solver(), *circuit, job_of(*circuit, told));
        return position_of(answer, "pressure", *circuit) < answer.tests.size();
    };
    CHECK(asks(""));
    CHECK(asks("earlier, gas pressure 8bar"));
    CHECK(asks("gas pressure 8bar?"));
    CHECK_FALSE(asks("gas pressure 8bar"));
}

TEST_CASE("of two numbers on one fuse the one that is relied on is its rating") {
    MatchOptions options;
    options.keep = 1000;
    const auto rating = [&](const std::vector<std::string>& numbers) {
        std::vector<std::string> told{"hi  blower normal", "fuse F7 blown at hi"};
        told.insert(told.end(), numbers.begin(), numbers.end());
        const MatchAnswer answer = match(solver(), cab_blower(), job_of(cab_blower(), told), options);
        const auto found = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                        [](const Candidate& one) { return one.fault == "F7 rating"; });
        REQUIRE(found != answer.candidates.end());
        REQUIRE(found->size);
        return found->size->best;
    };
    CHECK(rating({"fuse F7 is a 15A"}) == 15);
    CHECK(rating({"fuse F7 is a 15A", "fuse F12 is a 10A"}) == 15);
    CHECK(rating({"fuse F7 is a 15A", "fuse F7 is a 15A", "fuse F7 is a 40A?"}) == 15);
}

TEST_CASE("what a joint carries is the most of the positions that could be solved") {
    const std::vector<double> all = carried_amps(solver(), cab_blower());
    LostSolves lost(1);
    const std::vector<double> rest = carried_amps(lost, cab_blower());
    REQUIRE(lost.has_lost());
    REQUIRE(rest.size() == all.size());
    double most = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        CHECK(rest[i] <= all[i] + 1e-9);
        most = std::max(most, all[i]);
    }
    // On high the motor takes its 20 A.
    CHECK(most > 18);
    CHECK(most < 22);
}

TEST_CASE("damage that was seen at another time speaks less than damage that is seen now") {
    MatchOptions options;
    options.keep = 1000;
    options.two_faults = true;
    const auto plug = [&](const std::string& look) {
        std::vector<std::string> told{"lo,ml,mh  blower dead", "key run, hi  blower slow"};
        if (!look.empty()) told.push_back(look);
        return at(match(solver(), cab_blower(), job_of(cab_blower(), told), options), "C303");
    };
    const double now = plug("look C303.4 melted");
    const double earlier = plug("earlier, look C303.4 melted");
    CHECK(now > earlier);
    CHECK(earlier > plug(""));
}

TEST_CASE("of two fuses the number is read on the one that goes sometimes") {
    for (const char* fuse : {"F7", "F12"}) {
        const NextAnswer answer =
            next_tests(solver(), cab_blower(),
                       job_of(cab_blower(), {"hi  blower normal", std::string("fuse ") + fuse + " sometimes-blown"}));
        REQUIRE_FALSE(answer.tests.empty());
        CHECK(written(answer.tests.front()) == std::string("fuse ") + fuse + " rating");
    }
}

TEST_CASE("a burnt plug of a contact that gas moves is mended, not asked for the gas that was read") {
    const auto circuit = scenario_circuit("clutch.toml");
    const NextAnswer answer =
        next_tests(solver(), *circuit,
                   job_of(*circuit, {"key run, ac  clutch dead", "key run, ac  B1+ to B1- 14.2V", "look C141 burnt",
                                     "key run, ac  C141.1 to B1- 14.1V", "key run, ac  C141.2 to B1- 0V",
                                     "gas pressure 8bar", "off, unplug C141  P1.1 to P1.2 0.1ohm"}));
    REQUIRE_FALSE(answer.tests.empty());
    for (const TestProposal& test : answer.tests) CHECK(written(test, *circuit).find("pressure") == std::string::npos);
}
