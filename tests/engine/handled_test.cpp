// What was done to a vehicle and what it changed: a tap at one of the positions told, a plug renewed, a motor run on
// the bench, a clutch's hub pushed in.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/same_as.hpp"
#include "engine/solve/settled.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::at;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::of;
using voltfall::testing::solver;

namespace {

MatchAnswer told(const Circuit& circuit, const std::vector<std::string>& readings) {
    MatchOptions options;
    options.keep = 2000;
    return match(solver(), circuit, job_of(circuit, readings), options);
}

}  // namespace

TEST_CASE("a tap at one of the positions that were told dead speaks of the part that was tapped") {
    const std::string tap = "hi, tap M1  blower runs";
    const double alone = at(told(cab_blower(), {"hi  blower dead", tap}), "M1");
    REQUIRE(alone > 0.3);
    CHECK(at(told(cab_blower(), {"lo,ml,mh,hi  blower dead", tap}), "M1") > 1.1 * alone);
    // Who tells that it is so sometimes tells of a tap at such a time, in whatever order.
    CHECK(at(told(cab_blower(), {"sometimes, lo,ml,mh,hi  blower dead", tap}), "M1") > 1.4 * alone);
    CHECK(at(told(cab_blower(), {tap, "sometimes, lo,ml,mh,hi  blower dead"}), "M1") > 1.4 * alone);
    // After ten minutes it had stopped; the tap does not say again how long it had run.
    CHECK(at(told(cab_blower(), {"hi, after 10min  blower dead", tap}), "M1") > 0.9 * alone);
}

TEST_CASE("moments: one that is told of shows for certain, and what was handled changed it") {
    const Moment told_of{-0.1, -50, false, false, {}, true};
    CHECK(score_moments(std::vector{told_of}) == Approx(-0.1).margin(1e-9));
    const Moment gone{-50, 0, true, true, 0};
    CHECK(score_moments(std::vector{told_of, gone}) == Approx(-0.1 + std::log(changes_where_handled)).margin(1e-6));
}

TEST_CASE("a plug that was renewed in vain is no suspect, and the part behind it still is") {
    const std::vector<std::string> before{"lo,ml,mh  blower dead", "hi  blower normal"};
    const MatchAnswer first = told(cab_blower(), before);
    const MatchAnswer plug = told(cab_blower(), {before[0], before[1], "new C303, lo,ml,mh  blower dead"});
    const MatchAnswer part = told(cab_blower(), {before[0], before[1], "new R1, lo,ml,mh  blower dead"});
    REQUIRE(at(first, "C303") > 0.02);
    CHECK(at(plug, "C303") < 0.2 * at(first, "C303"));
    CHECK(at(plug, "R1") > at(first, "R1"));
    CHECK(at(part, "C303") > at(first, "C303"));
    CHECK(at(part, "R1") < 0.5 * at(first, "R1"));
    // A connector between two wires, too.
    const std::vector<std::string> dead{"lo,ml,mh,hi  blower dead", "fuse F7 good"};
    CHECK(at(told(cab_blower(), {dead[0], dead[1], "new C101, hi  blower dead"}), "C101") <
          0.2 * at(told(cab_blower(), dead), "C101"));
}

TEST_CASE("a part that was fitted a year ago is as old as any") {
    const auto fitted = [](const std::string& words) {
        Job job = job_of(cab_blower(), {"lo,ml,mh,hi  blower dead", "new F7, hi  fuse F7 blown at once"});
        if (!words.empty()) job.fitted.push_back({cab_blower().find_part("M1"), words});
        return match(solver(), cab_blower(), job);
    };
    const MatchAnswer never = fitted("");
    const MatchAnswer week = fitted("a week ago, worked at first");
    const MatchAnswer year = fitted("a year ago, worked at first");
    const MatchAnswer no_help = fitted("a week ago");
    CHECK(at(no_help, "M1") < 0.6 * at(never, "M1"));
    CHECK(at(week, "C304") > 2 * at(never, "C304"));
    // It mended it for a while: what killed the old one has the new one too, and beside a wire it is as likely as ever.
    const auto beside_wire = [](const MatchAnswer& answer) { return at(answer, "M1") / at(answer, "542"); };
    CHECK(beside_wire(week) == Approx(beside_wire(never)).epsilon(0.05));
    CHECK(beside_wire(no_help) < 0.5 * beside_wire(never));
    CHECK(beside_wire(fitted("today, second, no change")) < 0.5 * beside_wire(never));
    CHECK(at(year, "M1") == Approx(at(never, "M1")));
    CHECK(at(year, "C304") == Approx(at(never, "C304")));
    // The second one in so many years is still a second one.
    CHECK(at(fitted("second, a year ago"), "C304") > 2 * at(never, "C304"));
}

TEST_CASE("a motor that ran on the bench may still touch its case in the vehicle") {
    const std::vector<std::string> blows{"lo,ml,mh,hi  blower dead", "new F7, hi  fuse F7 blown at once"};
    const MatchAnswer first = told(cab_blower(), blows);
    const MatchAnswer bench = told(cab_blower(), {blows[0], blows[1], "M1 good"});
    REQUIRE(of(first, "M1 short-to-case") > 0);
    REQUIRE(of(first, "M1 seized") > 0);
    const auto kept = [&](const std::string& fault) { return of(bench, fault) / of(first, fault); };
    CHECK(kept("M1 short-to-case") > 5 * kept("M1 seized"));
}

TEST_CASE("a clutch whose gap has worn wide has its volts and does not pull in until it is pushed") {
    const auto circuit = scenario_circuit("clutch.toml");
    const State on = state_named(*circuit, "ac");
    const PartId clutch = circuit->find_part("A1");
    const auto seen = [&](const std::string& fault, const State& state) {
        const CourseResult sound = run_course(solver(), *circuit, on, {});
        const CourseResult now = run_course(solver(), *circuit, state, faults_named(*circuit, fault));
        REQUIRE(sound);
        REQUIRE(now);
        CHECK(load_state(now->end(), clutch, nullptr).volts ==
              Approx(load_state(sound->end(), clutch, nullptr).volts).margin(1e-9));
        return load_state(now->end(), clutch, &sound->end()).seen;
    };
    State pushed = on;
    pushed.handled = {"tap A1"};
    CHECK(seen("A1 gap 1.2", on) == LoadSeen::normal);
    CHECK(seen("A1 gap 3", on) == LoadSeen::dead);
    CHECK(seen("A1 gap 3", pushed) == LoadSeen::normal);
    // Dead, with its volts there, and running once it is pushed in: no other row says all three.
    const MatchAnswer answer = told(*circuit, {"key run, ac  clutch dead", "key run, ac  B1+ to B1- 14.2V",
                                               "key run, ac  A1.1 to A1.2 13.4V", "key run, ac, tap A1  clutch runs"});
    CHECK(answer.candidates.front().fault == "A1 gap");
    CHECK(answer.candidates.front().same_as.empty());
}
