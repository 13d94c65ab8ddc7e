// What people tell of a vehicle: words, times, moments, parts tried; and what may follow from it.
#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "engine/diagnosis/cause_shares.hpp"
#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/same_as.hpp"
#include "engine/planning/next.hpp"
#include "engine/readings/questions.hpp"
#include "engine/readings/technician.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::at;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::of;

namespace {

MatchAnswer told(const std::vector<std::string>& readings, bool two_faults = false) {
    MatchOptions options;
    options.keep = 2000;
    options.two_faults = two_faults;
    return match(solver(), cab_blower(), job_of(cab_blower(), readings), options);
}

Fault fault_named(const std::string& phrase) {
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("fault", phrase), cab_blower(), problems);
    REQUIRE(fault);
    return *fault;
}

}  // namespace

TEST_CASE("rows of one plug do not fill the first three places") {
    const MatchAnswer answer = told({"lo,ml,mh,hi  blower dead", "fuse F7 good"});
    REQUIRE(answer.places.size() > 3);
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < i; ++j) CHECK(answer.places[i].place != answer.places[j].place);
        CHECK(answer.places[i].place.find('.') == std::string::npos);
    }
}

TEST_CASE("a load that runs when it should be off is no slip of the tongue") {
    const MatchAnswer answer = told({"hi  blower normal", "off  blower runs"});
    CHECK(at(answer, "nothing") < 0.1);
    // What bypasses the switch makes it run; what makes it slow or dead does not.
    const double bypassed = of(answer, "K3 welded") + of(answer, "M1 short-to-case at 2") + of(answer, "555 chafe") +
                            of(answer, "557 chafe");
    CHECK(bypassed > 0.3);
    CHECK(of(answer, "M1 open") < 0.02);
    CHECK(of(answer, "M1 worn-brushes") < 0.05);
}

TEST_CASE("'key off, it runs' is said of a control that is left on") {
    // Common practice, no source: a driver who says so has not turned the blower off.
    const Job job = job_of(cab_blower(), {"key off  blower runs"});
    const Questions questions = make_questions(solver(), cab_blower(), job);
    const PartId control = cab_blower().find_part("S1");
    REQUIRE_FALSE(questions.states.empty());
    for (const JobState& state : questions.states) {
        CHECK(state.state.key == KeyPosition::off);
        CHECK(state.state.positions[control.index] != cab_blower().part(control).rest_position);
    }
}

TEST_CASE("what changes where it is handled sits there") {
    const std::vector<std::string> before{"sometimes, lo,ml,mh,hi  blower dead"};
    const double unhandled = at(told(before), "C101");
    const double handled = at(told({before[0], "hi, wiggle C101  blower normal"}), "C101");
    REQUIRE(unhandled > 0);
    CHECK(handled > 1.4 * unhandled);
    // Handled elsewhere, it is elsewhere.
    CHECK(at(told({before[0], "hi, wiggle C304  blower normal"}), "C101") < unhandled);
}

TEST_CASE("moments: a fault mostly stays as it was, and changes most where it is handled") {
    const double sure = 0;
    const double never = -50;
    // By itself it shows in every other moment; once it shows it does so in the next one unless it comes anew: 0.8 +
    // 0.2 / 2.
    const Moment seen{sure, never, false, false, {}};
    CHECK(score_moments(std::vector{seen, seen}) == Approx(std::log(0.5 * 0.9)).margin(1e-9));
    // Over all eight ways in which three moments may go, what is seen has a sum of 1.
    const Moment hidden{never, sure, false, false, {}};
    double sum = 0;
    for (const Moment& first : {seen, hidden})
        for (const Moment& second : {seen, hidden})
            for (const Moment& third : {seen, hidden})
                sum += std::exp(score_moments(std::vector{first, second, third}));
    CHECK(sum == Approx(1).margin(1e-9));
    // In their order, whatever the order of the list: away, there, there is likelier than there, away, there.
    const auto at_place = [](Moment moment, std::size_t at) {
        moment.at = at;
        return moment;
    };
    CHECK(score_moments(std::vector{at_place(seen, 2), at_place(hidden, 1), at_place(seen, 3)}) ==
          Approx(std::log(0.5 * 0.1 * 0.9)).margin(1e-9));
    const MomentsScore away = follow_moments(std::vector{seen, hidden}, Trigger::itself);
    CHECK(*away.there == Approx(0).margin(1e-9));
    CHECK_FALSE(away.under);
    // Another time tells nothing of now.
    Moment earlier = hidden;
    earlier.earlier = true;
    CHECK(score_moments(std::vector{seen, earlier, seen}) == Approx(std::log(0.5 * 0.5 * 0.9)).margin(1e-9));
    // Handled here, it went away with the chance of a change at its place; elsewhere hardly.
    const Moment gone_here{never, sure, true, true, 0};
    const Moment gone_elsewhere{never, sure, true, false, 0};
    const double here = score_moments(std::vector{seen, gone_here});
    const double elsewhere = score_moments(std::vector{seen, gone_elsewhere});
    CHECK(here == Approx(std::log(0.5) + std::log(0.6)).margin(1e-9));
    CHECK(elsewhere == Approx(std::log(0.5) + std::log(0.1)).margin(1e-9));
}

TEST_CASE("an earlier look does not rule out what has become worse since") {
    const double now_only = at(told({"lo,ml,mh  blower dead", "hi  blower normal"}), "R1");
    const double grown =
        at(told({"earlier, lo,ml,mh,hi  blower normal", "lo,ml,mh  blower dead", "hi  blower normal"}), "R1");
    REQUIRE(now_only > 0.3);
    CHECK(grown > 0.8 * now_only);
}

TEST_CASE("a fuse that was whole and blew in a test leaves the short possible") {
    const MatchAnswer answer =
        told({"earlier, fuse F7 good", "lo,ml,mh,hi  blower dead", "new F7, hi  fuse F7 blown at once"});
    CHECK(at(answer, "542") + at(answer, "541") + at(answer, "M1") > 0.5);
    CHECK(answer.none_of_these < 0.1);
}

TEST_CASE("a fuse that holds with a plug off clears what is behind the plug") {
    const std::vector<std::string> blows{"lo,ml,mh,hi  blower dead", "new F7, hi  fuse F7 blown at once"};
    const double before = at(told(blows), "M1");
    const double cleared = of(told({blows[0], blows[1], "unplug C304, new F7, hi  fuse F7 holds"}), "541 chafe");
    const double kept = of(told(blows), "541 chafe");
    REQUIRE(before > 0.1);
    CHECK(cleared < 0.3 * kept);
}

TEST_CASE("a contact that reads as the meter's leads do is closed") {
    // Common practice, no source: two leads touched together read 0.1 to 0.4 ohm, and few take that off.
    const std::vector<std::string> dead{"ml  blower dead", "lo,mh,hi  blower normal",
                                        "key run, ml  C303.2 to B1-  13.5V"};
    const auto switch_after = [&](const std::string& ohms) {
        std::vector<std::string> readings = dead;
        if (!ohms.empty()) readings.push_back("ml, unplug C305  S1.C to S1.2  " + ohms);
        const MatchAnswer answer = told(readings);
        return of(answer, "S1 contact ml open") + of(answer, "S1 contact ml resistance");
    };
    const double before = switch_after("");
    CHECK(before > 0.1);
    for (const char* leads : {"0.0ohm", "0.1ohm", "0.2ohm", "0.3ohm"}) {
        INFO(leads);
        CHECK(switch_after(leads) < before / 4);
    }
    CHECK(switch_after("open") > 0.8);
}

TEST_CASE("what a meter reads between the posts of a battery with a poor clamp is no EMF") {
    // 14.2 V less 4.5 V at 3.6 A: 2.7 ohm in the clamp, by hand; the same 4.5 V feed all that is behind it.
    const std::vector<std::string> dying{"key run, lo,ml  blower dead", "key run, hi  clamp 541  3.6A",
                                         "key run, hi  F7.2 to B1-  4.47V", "key run, hi  B1+ to B1-  4.50V"};
    const MatchAnswer answer = told(dying);
    CHECK(at(answer, "B1") > 0.9);
    CHECK(answer.none_of_these < 0.1);
    CHECK(answer.candidates.front().fault == "B1 resistance");
    REQUIRE(answer.candidates.front().size);
    CHECK(answer.candidates.front().size->best == Approx(2.7).epsilon(0.1));
    // With 14.1 V between the posts it is not the clamp.
    const MatchAnswer sound = told({dying[0], dying[1], dying[2], "key run, hi  B1+ to B1-  14.1V"});
    CHECK(at(sound, "B1") < 0.01);
    CHECK(at(sound, "F7") > 0.5);
    CHECK(at(told({"lo,ml,mh,hi  blower dead", "B1+ to B1-  0.0V"}), "B1") > 0.7);
}

TEST_CASE("more than a hundred ohms is as good as open") {
    const double open = of(told({"lo,ml,mh,hi  blower dead", "unplug C304  M1.1 to M1.2  open"}), "M1 open");
    const double more = of(told({"lo,ml,mh,hi  blower dead", "unplug C304  M1.1 to M1.2  >100ohm"}), "M1 open");
    REQUIRE(open > 0.5);
    CHECK(more > 0.9 * open);
}

TEST_CASE("a motor that turns freely by hand is not seized; one that is stiff may be") {
    const std::vector<std::string> blows{"lo,ml,mh,hi  blower dead", "fuse F7 blown"};
    const double unsaid = of(told(blows), "M1 seized");
    REQUIRE(unsaid > 0.02);
    CHECK(of(told({blows[0], blows[1], "M1 turns freely by hand"}), "M1 seized") < 0.3 * unsaid);
    CHECK(of(told({blows[0], blows[1], "M1 stiff by hand"}), "M1 seized") > unsaid);
}

TEST_CASE("a fuse that looks whole and is open has failed by itself") {
    const std::vector<std::string> open{"lo,ml,mh,hi  blower dead", "pull F7  F7.1 to F7.2  open"};
    CHECK(of(told({open[0], open[1], "fuse F7 looks whole"}), "F7 open") > 3 * of(told(open), "F7 open"));
}

TEST_CASE("wires that somebody has worked on may have changed places") {
    Job job = job_of(cab_blower(), {"lo  blower dead", "ml  blower slow"});
    MatchOptions options;
    options.keep = 2000;
    const auto swapped = [&] {
        double sum = 0;
        for (const Candidate& candidate : match(solver(), cab_blower(), job, options).candidates) {
            if (candidate.fault.starts_with("swapped")) sum += candidate.probability;
        }
        return sum;
    };
    const double untouched = swapped();
    REQUIRE(untouched > 0);
    job.history.push_back("a new harness was fitted by the last owner");
    CHECK(swapped() > 3 * untouched);
}

/// Two faults, and what was read of them.
struct TwoFaults {
    std::array<std::string, 2> faults;
    std::array<std::string_view, 2> places;
    std::vector<const char*> asked;
};

TEST_CASE("two faults at once are found as a pair and suggested: relay contact and limiter, relay contact and ground") {
    const std::vector<TwoFaults> vehicles{
        {{"K3 contact resistance 0.5ohm", "R1 limiter open"},
         {"K3", "R1"},
         {"hi  across M1  1V", "hi  K3.30 to K3.87  1V", "lo  R1.4 to R1.1  1V"}},
        // Both sizes are narrow: at any others both numbers are wrong.
        {{"K3 contact resistance 0.3ohm", "G201 resistance 0.12ohm"},
         {"K3 contact", "G201"},
         {"hi  K3.30 to K3.87  1V", "hi  K3.87 to B1-  1V", "hi  C304.2 to B1-  1V", "hi  M1.1 to B1-  1V"}},
    };
    for (const TwoFaults& two : vehicles) {
        const std::vector<Fault> faults{fault_named(two.faults[0]), fault_named(two.faults[1])};
        Technician technician(solver(), Vehicle{&cab_blower(), faults, {}}, exact_meters(), usual_tools());
        Job job = job_of(cab_blower(), {"key run  B1+ to B1- 14.2V"});
        std::vector<const char*> asked{"lo  blower normal", "ml  blower normal", "mh  blower normal",
                                       "hi  blower normal"};
        asked.insert(asked.end(), two.asked.begin(), two.asked.end());
        for (const char* test : asked) {
            const auto measured = technician.measure(test_of(job_of(cab_blower(), {test}).readings.front()));
            REQUIRE(measured);
            add_reading(job, measured->reading);
        }
        MatchOptions wanted;
        wanted.two_faults = true;
        MatchOptions suggested;
        suggested.two_where_one_fits_poorly = true;
        for (const MatchOptions& options : {wanted, suggested}) {
            const MatchAnswer answer = match(solver(), cab_blower(), job, options);
            REQUIRE_FALSE(answer.pairs.empty());
            const auto names = [&](const FaultPair& pair, std::string_view place) {
                return pair.faults[0].starts_with(place) || pair.faults[1].starts_with(place);
            };
            INFO(answer.pairs.front().faults[0] << " and " << answer.pairs.front().faults[1]);
            CHECK(names(answer.pairs.front(), two.places[0]));
            CHECK(names(answer.pairs.front(), two.places[1]));
        }
    }
}

TEST_CASE("a bridge in a plug and a chafe before it are not the same where the plug can be taken off") {
    Lookalikes lookalikes(solver(), cab_blower());
    const Fault bridge = fault_named("C303 bridge 3-4 0.01ohm");
    const Fault short_coil = fault_named("R1 coil 3-4 drift 1.2");
    CHECK_FALSE(lookalikes.by_numbers(*bridge.mode, bridge.size, 0.5, short_coil.mode.get(), short_coil.size));
    const Fault chafe = fault_named("542 chafe 10mohm");
    const Fault case_short = fault_named("M1 short-to-case 10mohm");
    CHECK_FALSE(lookalikes.by_numbers(*chafe.mode, chafe.size, 0.99, case_short.mode.get(), case_short.size));
}

TEST_CASE("what an ohmmeter tells of a part in the hand is not the same as its plug") {
    Lookalikes lookalikes(solver(), cab_blower());
    const auto alike = [&](const char* a, const char* b) {
        const ModePtr one = fault_named(a).mode;
        const ModePtr other = fault_named(b).mode;
        return lookalikes.by_graph(*one, *other) || lookalikes.by_numbers(*one, 0, 0.5, other.get(), 0);
    };
    CHECK_FALSE(alike("M1 open", "C304.1 open"));
    CHECK_FALSE(alike("R1 limiter open", "C303.4 open"));
}

TEST_CASE("testing ends at few places, in the order to try them") {
    for (const char* phrase : {"C101.4 open", "M1 open", "G201 open", "R1 limiter open"}) {
        INFO(phrase);
        const Fault fault = fault_named(phrase);
        Technician technician(solver(), Vehicle{&cab_blower(), {fault}, {}}, exact_meters(), usual_tools());
        Job job;
        job.tools = usual_tools();
        for (const char* asked : {"lo  blower normal", "ml  blower normal", "mh  blower normal", "hi  blower normal"}) {
            const auto measured = technician.measure(test_of(job_of(cab_blower(), {asked}).readings.front()));
            REQUIRE(measured);
            add_reading(job, measured->reading);
        }
        NextAnswer next = next_tests(solver(), cab_blower(), job);
        for (int step = 0; step < 12 && !next.stop; ++step) {
            REQUIRE_FALSE(next.tests.empty());
            const auto measured = technician.measure(next.tests.front().test);
            REQUIRE(measured);
            add_reading(job, measured->reading);
            next = next_tests(solver(), cab_blower(), job);
        }
        REQUIRE(next.stop);
        CHECK(next.stop->repairs.size() <= 3);
        const std::string owner = fault.mode->place.substr(0, fault.mode->place.find('.'));
        CHECK(std::find(next.stop->repairs.begin(), next.stop->repairs.end(), owner) != next.stop->repairs.end());
    }
}

TEST_CASE("a case left out of the counts takes its cause's share with it") {
    const auto& modes = cab_blower().modes;
    const auto motor = std::find_if(modes.begin(), modes.end(),
                                    [](const ModePtr& mode) { return mode->fault_class == FaultClass::motor; });
    REQUIRE(motor != modes.end());
    const CauseShares& usual = CauseShares::usual();
    const CauseShares rest = usual.without(cab_blower(), **motor);
    CHECK(rest.of_class(FaultClass::motor, CircuitPurpose::blower) <
          usual.of_class(FaultClass::motor, CircuitPurpose::blower));
    CHECK(rest.of_class(FaultClass::pack, CircuitPurpose::blower) >
          usual.of_class(FaultClass::pack, CircuitPurpose::blower));
}

TEST_CASE("a wire that is rarer than the plug before it is not lost, and a glance at it comes before the plug") {
    // Four readings that leave C101.4 and both wires beside it: the plug leads, less than certain, the wires behind it.
    // A look takes a minute, the plug's own drop half an hour.
    const Job job = job_of(cab_blower(), {"lo,ml,mh,hi, key run  blower dead", "hi, key run  F7.2@541 to B1- 14.20V",
                                          "lo, key run  C304.1 to C304.2 0.0mV", "hi, key run  C304.2 to B1- 0.0mV",
                                          "ml, key run  C304.1 to B1- 0.0mV"});
    const NextAnswer next = next_tests(solver(), cab_blower(), job);
    REQUIRE_FALSE(next.tests.empty());
    CHECK(next.tests.front().minutes < 5);
    CHECK_FALSE(next.stop);
    const MatchAnswer answer = match(solver(), cab_blower(), job);
    REQUIRE(answer.places.size() >= 3);
    CHECK(answer.places[0].place == "C101");
    for (const std::string wire : {"541", "542"})
        CHECK((answer.places[1].place == wire || answer.places[2].place == wire));
}
