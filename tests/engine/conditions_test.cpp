// Faults that come and go with heat, cold, water or movement: what a condition tells, when it is made, and tests taken
// while it lasts.
#include <algorithm>
#include <cmath>

#include "engine/diagnosis/moments.hpp"
#include "engine/planning/made_conditions.hpp"
#include "engine/planning/next.hpp"
#include "engine/readings/technician.hpp"
#include "netlists/files/tools_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::all_tests;
using voltfall::testing::at;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::position_of;
using voltfall::testing::written;

namespace {

const std::string all_well = "lo,ml,mh,hi  blower normal";

MatchAnswer told(const std::vector<std::string>& readings) {
    MatchOptions options;
    options.keep = 2000;
    return match(solver(), cab_blower(), job_of(cab_blower(), readings), options);
}

NextAnswer next_of(const std::vector<std::string>& readings) {
    return next_tests(solver(), cab_blower(), job_of(cab_blower(), readings));
}

}  // namespace

TEST_CASE("a moment in its own condition shows what comes and goes, and in the opposite one hardly") {
    Moment moment;
    moment.hides = -50;
    moment.under = Trigger::heat;
    CHECK(score_moments(std::vector{moment}, Trigger::heat) == Approx(std::log(0.9)).margin(1e-6));
    CHECK(score_moments(std::vector{moment}, Trigger::cold) == Approx(std::log(0.05)).margin(1e-6));
    CHECK(score_moments(std::vector{moment}, Trigger::itself) == Approx(std::log(0.5)).margin(1e-6));
    moment.under.reset();
    CHECK(score_moments(std::vector{moment}, Trigger::heat) == Approx(std::log(0.5)).margin(1e-6));
    for (const FaultClass fault_class : {FaultClass::joint, FaultClass::motor, FaultClass::pack, FaultClass::wire,
                                         FaultClass::switch_relay, FaultClass::module}) {
        FaultMode mode;
        mode.fault_class = fault_class;
        double sum = 0;
        for (const double share : trigger_shares(mode)) sum += share;
        CHECK(sum == Approx(1));
    }
}

TEST_CASE("heat speaks of the motor, water of joints and wires") {
    const auto motor_and_joint = [](const std::string& condition) {
        const MatchAnswer answer = told({"sometimes, " + condition + ", lo,ml,mh,hi  blower dead", all_well});
        return at(answer, "M1") / at(answer, "C101");
    };
    CHECK(motor_and_joint("hot") > 1.5 * motor_and_joint("wet"));
}

TEST_CASE("a run of minutes is a hot one, the first minute is not") {
    const auto state_of = [](const std::string& phrase) {
        return states_of(cab_blower(), job_of(cab_blower(), {phrase + "  blower dead"}).readings.front().state).front();
    };
    CHECK(condition_made(state_of("hi, after 20min")) == Trigger::heat);
    CHECK_FALSE(condition_made(state_of("hi, after 30s")));
    CHECK(condition_made(state_of("cold, hi")) == Trigger::cold);
    CHECK(condition_made(state_of("cold, hi, after 20min")) == Trigger::cold);
}

TEST_CASE("what fails when it is hot is run hot behind a free turn of the switch, with its minutes and cautions") {
    const NextAnswer answer = next_of({"sometimes, hot, lo,ml,mh,hi  blower dead", all_well});
    INFO(all_tests(answer));
    REQUIRE(answer.tests.size() > 1);
    const TestProposal& first = answer.tests[answer.tests.front().minutes > 0 ? 0 : 1];
    CHECK(first.test.state.conditions == std::vector<std::string>{"hot"});
    CHECK(std::holds_alternative<LoadTest>(first.test.tested));
    CHECK(first.minutes >= 20);
    CHECK(std::any_of(first.caution.begin(), first.caution.end(), [](const std::string& line) {
        return line.starts_with("warning: running hot") && line.find("exhaust") != std::string::npos &&
               line.find("fan") != std::string::npos;
    }));
    CHECK(first.expect.size() > 1);
    // Where nothing comes and goes, nothing is made to.
    for (const TestProposal& test : next_of({"lo,ml,mh,hi  blower dead"}).tests)
        CHECK(test.test.state.conditions.empty());
}

TEST_CASE("once the fault has shown in a condition, tests are taken while it lasts") {
    const std::vector<std::string> shown{"sometimes, hot, lo,ml,mh,hi  blower dead", all_well, "hot, hi  blower dead"};
    const Job job = job_of(cab_blower(), shown);
    const auto weighed = weigh(solver(), cab_blower(), job, {});
    CHECK(condition_now(job, *weighed) == Trigger::heat);
    const NextAnswer hot = next_of(shown);
    INFO(all_tests(hot));
    for (const TestProposal& test : hot.tests) {
        const bool fed =
            std::holds_alternative<VoltsTest>(test.test.tested) || std::holds_alternative<AmpsTest>(test.test.tested);
        if (fed) CHECK(test.test.state.conditions == std::vector<std::string>{"hot"});
    }
    // Another position may be well although the fault is there.
    const Job elsewhere = job_of(cab_blower(), {shown[0], all_well, shown[2], "hot, lo  blower normal"});
    CHECK(condition_now(elsewhere, *weigh(solver(), cab_blower(), elsewhere, {})) == Trigger::heat);
    // All was well in it: it is not what brings the fault about.
    const Job well = job_of(cab_blower(), {shown[0], all_well, "hot, hi  blower normal"});
    CHECK_FALSE(condition_now(well, *weigh(solver(), cab_blower(), well, {})));
}

TEST_CASE("whether a fault that is told of is there now is looked at first, before anything is opened or made") {
    const NextAnswer answer = next_of({"sometimes, hi  blower dead", "lo,ml,mh  blower normal"});
    INFO(all_tests(answer));
    REQUIRE_FALSE(answer.tests.empty());
    CHECK(written(answer.tests.front()) == "hi  blower");
    CHECK(answer.tests.front().finds_complaint);
    // It is not: now somebody brings it about.
    const NextAnswer away = next_of({"sometimes, hi  blower dead", "lo,ml,mh,hi  blower normal"});
    INFO(all_tests(away));
    const auto made = std::find_if(away.tests.begin(), away.tests.end(),
                                   [](const TestProposal& test) { return !test.test.state.conditions.empty(); });
    REQUIRE(made != away.tests.end());
    const auto volts = std::find_if(away.tests.begin(), away.tests.end(), [](const TestProposal& test) {
        return std::holds_alternative<VoltsTest>(test.test.tested);
    });
    CHECK(made < volts);
    CHECK(made->finds_complaint);
}

TEST_CASE("readings taken while a fault is away tell little of where it sits") {
    const std::vector<std::string> once{"sometimes, hi  blower dead", "hi  blower normal"};
    const std::vector<std::string> often{once[0], "hi  blower normal", "key run, hi  F7.2 to B1-  14.10V",
                                         "key run, mh  C304.1 to C304.2  10.0V",
                                         "key run, lo  C304.1 to C304.2  5.05V"};
    // Were it there or away anew at each, they would turn the two about: 1.24 to 0.31.
    const auto plug_to_ground = [](const MatchAnswer& answer) { return at(answer, "C101") / at(answer, "G201"); };
    CHECK(plug_to_ground(told(often)) > 0.6 * plug_to_ground(told(once)));
}
