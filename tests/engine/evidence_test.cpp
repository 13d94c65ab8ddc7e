// Evidence beside volts and amps: what is smelt, felt and seen on a scope, victims with their cause, two faults at
// once.
#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/priors.hpp"

#include <algorithm>

#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

namespace {

const Candidate* find(const MatchAnswer& answer, const std::string& fault) {
    const auto found = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                    [&](const Candidate& c) { return c.fault == fault; });
    return found == answer.candidates.end() ? nullptr : &*found;
}

MatchAnswer match_all(const Job& job) {
    MatchOptions options;
    options.keep = 1000;
    options.calibrated = false;
    return match(solver(), cab_blower(), job, options);
}

}  // namespace

TEST_CASE("smells, temperatures, pins and a scope count for the place that they speak of") {
    const auto of = [](const MatchAnswer& answer, const char* fault) {
        const Candidate* candidate = find(answer, fault);
        REQUIRE(candidate != nullptr);
        return candidate->probability;
    };
    const std::string dead = "lo,ml,mh blower dead";
    const MatchAnswer plain = match_all(job_of(cab_blower(), {dead}));
    const MatchAnswer smell = match_all(job_of(cab_blower(), {dead, "smell C303"}));
    CHECK(of(smell, "C303.4 open") > 3 * of(plain, "C303.4 open"));
    const MatchAnswer loose = match_all(job_of(cab_blower(), {dead, "pin C303.4 drag none"}));
    CHECK(of(loose, "C303.4 open") > 3 * of(plain, "C303.4 open"));
    const MatchAnswer firm = match_all(job_of(cab_blower(), {dead, "pin C303.4 drag good"}));
    CHECK(of(firm, "C303.4 open") < of(plain, "C303.4 open"));
    // A third of an ohm in C101.4 makes 40 W on high: the connector is hot to the hand; one that stays cold has none.
    const std::string slow = "key run, hi M1.1 to B1- 10.2V";
    const MatchAnswer hot = match_all(job_of(cab_blower(), {slow, "hi C101 rise 60C"}));
    const MatchAnswer cold = match_all(job_of(cab_blower(), {slow, "hi C101 rise 0C"}));
    CHECK(of(hot, "C101.4 resistance") > 2 * of(cold, "C101.4 resistance"));
    // A hand tells three ranges of the same rise.
    const MatchAnswer felt_hot = match_all(job_of(cab_blower(), {slow, "hi C101 feels hot"}));
    const MatchAnswer felt_cold = match_all(job_of(cab_blower(), {slow, "hi C101 rise cold"}));
    CHECK(of(felt_hot, "C101.4 resistance") > 2 * of(felt_cold, "C101.4 resistance"));
    const MatchAnswer uneven = match_all(job_of(cab_blower(), {"hi blower slow", "ripple M1 gaps"}));
    const MatchAnswer even = match_all(job_of(cab_blower(), {"hi blower slow", "ripple M1 even"}));
    CHECK(of(uneven, "M1 worn-brushes") > 3 * of(even, "M1 worn-brushes"));
}

TEST_CASE("a plug that has melted speaks for what drives a great current through it") {
    // 0.35 ohm and 5 mohm of a plug: 80 A of a held rotor make thirty times the heat of 15 A in C304 (I2R by hand).
    const auto odds = [](const std::string& look) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), {"hi blower dead", look}));
        return find(answer, "M1 seized")->probability / find(answer, "M1 dead-spot")->probability;
    };
    CHECK(odds("look C304 melted") > 3 * odds("look C304 clean"));
    CHECK(odds("look C304 wet") == Approx(odds("look C304 clean")).epsilon(0.05));
}

TEST_CASE("a fuse found blown is open in the readings after it, whatever blew it") {
    const auto odds = [](const std::vector<std::string>& readings) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), readings));
        return find(answer, "542 open")->probability / find(answer, "M1 seized")->probability;
    };
    const std::string dead = "lo,ml,mh,hi blower dead";
    const std::string no_volts = "key run, hi M1.1 to B1- 0.0V";
    // No volts behind an open fuse tell nothing of the wire; in front of its finding they do.
    const double before = odds({dead, "fuse F7 blown"});
    CHECK(odds({dead, "fuse F7 blown", no_volts}) == Approx(before).epsilon(0.05));
    CHECK(odds({dead, "fuse F7 blown", "key run, hi, new F7 M1.1 to B1- 0.0V"}) > 2 * before);
}

TEST_CASE("a current that no open fuse lets through says that somebody has renewed it") {
    const MatchAnswer unsaid = match_all(job_of(cab_blower(), {"fuse F7 blown", "key run, hi clamp 541 20.2A"}));
    const MatchAnswer said = match_all(job_of(cab_blower(), {"fuse F7 blown", "key run, hi, new F7 clamp 541 20.2A"}));
    CHECK(unsaid.none_of_these < 0.1);
    CHECK(unsaid.notes.size() == said.notes.size() + 1);
    CHECK(unsaid.notes.front().find("reading 2 shows it whole") != std::string::npos);
    // After it the fuse is whole without a word.
    const MatchAnswer later =
        match_all(job_of(cab_blower(), {"fuse F7 blown", "key run, hi, new F7 clamp 541 20.2A", "hi blower normal"}));
    CHECK(later.notes.size() == said.notes.size());
    CHECK(later.none_of_these < 0.1);
}

TEST_CASE("an empty seat is a missing fuse, and a fuse seen there is none") {
    const auto of = [](const std::string& seen) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower dead", seen}));
        return find(answer, "F7 missing")->probability;
    };
    const double unseen = find(match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower dead"})), "F7 missing")->probability;
    CHECK(of("fuse F7 missing") > 0.8);
    CHECK(of("fuse F7 good") < 0.05 * unseen);
    // Behind an empty seat there is nothing, as behind a blown fuse.
    const MatchAnswer behind =
        match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower dead", "fuse F7 missing", "key run, hi M1.1 to B1- 0.0V"}));
    CHECK(find(behind, "F7 missing")->probability == Approx(of("fuse F7 missing")).epsilon(0.02));
}

TEST_CASE("of two fuses side by side the second goes once the first is found blown, and is open from then on") {
    // 19.8 A of the motor on high through one 15 A fuse.
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/cases/twofuse.toml");
    REQUIRE(read.circuit);
    MatchOptions options;
    options.keep = 1000;
    options.calibrated = false;
    const auto odds = [&](const std::vector<std::string>& readings) {
        const MatchAnswer answer = match(solver(), *read.circuit, job_of(*read.circuit, readings), options);
        return find(answer, "nothing")->probability / find(answer, "F2 missing")->probability;
    };
    const std::string first = "fuse F1 blown at hi";
    const std::string then = "key run, hi F2.2 to B1- 0.0V";
    const double both_gone = odds({first, then});
    CHECK(both_gone == Approx(odds({first})).epsilon(0.1));
    CHECK(odds({first, then, "key run, mh F2.2 to B1- 0.0V"}) == Approx(both_gone).epsilon(0.1));
}

TEST_CASE("words of one's own in a look are kept, not weighed") {
    const auto of = [](const std::string& look) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), {"hi blower dead", look}));
        return find(answer, "M1 seized")->probability;
    };
    CHECK(of("look M1 \"spins freely\"") == Approx(of("look S1 \"spins freely\"")).epsilon(1e-6));
}

TEST_CASE("two faults at once: each explains what the other does not") {
    MatchOptions options;
    options.two_faults = true;
    const Job job = job_of(
        cab_blower(),
        {"lo,ml,mh blower dead", "key run, hi blower slow", "fuse F7 good", "key run, hi B1+ to B1- 14.1V",
         "key run, hi F7.2 to B1- 14.0V", "key run, hi C101.4@541 to B1- 13.9V", "key run, hi C101.4@542 to B1- 10.3V",
         "key run, hi M1.1 to B1- 10.2V", "key run, mh R1.4 to B1- 14.1V", "key run, mh R1.3 to B1- 0.0V"});
    const MatchAnswer answer = match(solver(), cab_blower(), job, options);
    REQUIRE_FALSE(answer.pairs.empty());
    const FaultPair& pair = answer.pairs.front();
    INFO(pair.faults[0] << " and " << pair.faults[1] << " " << pair.probability);
    const std::string both = pair.faults[0] + " " + pair.faults[1];
    // 13.9 less 10.3 V at the 12.5 A that 0.29 ohm leaves the motor (`whatif`).
    const std::string size = "C101.4 resistance ";
    REQUIRE(both.find(size) != std::string::npos);
    CHECK(std::stod(both.substr(both.find(size) + size.size())) == Approx(0.29).epsilon(0.05));
    CHECK((both.find("R1 limiter open") != std::string::npos || both.find("R1 coil 3-4 open") != std::string::npos));
    // Four readings against one fault: the pair leads.
    CHECK(pair.probability > answer.candidates.front().probability);
    double sum = answer.none_of_these;
    for (const FaultPair& one : answer.pairs) sum += one.probability;
    for (const Candidate& one : answer.candidates) sum += one.probability;
    CHECK(sum < 1 + 1e-6);
    CHECK_FALSE(match(solver(), cab_blower(), job).pairs_asked);
}

TEST_CASE("where one fault explains all, a second beside it is as rare as its prior and the share of second faults") {
    const Job job = job_of(cab_blower(), {"lo,ml,mh blower dead", "hi blower normal", "fuse F7 good"});
    MatchOptions options;
    options.two_faults = true;
    options.keep = 1000;
    const MatchAnswer answer = match(solver(), cab_blower(), job, options);
    REQUIRE_FALSE(answer.pairs.empty());
    const Priors priors = priors_of(cab_blower(), job);
    const auto of = [&](const std::string& phrase) {
        std::pair<double, double> prior_and_now{0, 0};
        for (std::size_t i = 0; i < cab_blower().modes.size(); ++i) {
            if (!phrase.starts_with(cab_blower().modes[i]->phrase())) continue;
            prior_and_now.first = priors.modes[i];
            prior_and_now.second = find(answer, cab_blower().modes[i]->phrase())->probability;
        }
        REQUIRE(prior_and_now.first > 0);
        return prior_and_now;
    };
    for (const FaultPair& pair : answer.pairs) {
        const auto [prior_a, now_a] = of(pair.faults[0]);
        const auto [prior_b, now_b] = of(pair.faults[1]);
        INFO(pair.faults[0] << " and " << pair.faults[1]);
        // One vehicle in twenty has a second fault (default table); at its best size it may fit a few times better than
        // over all of its sizes.
        CHECK(pair.probability < 5 * 0.05 * std::max(prior_a * now_b, prior_b * now_a));
    }
}

TEST_CASE("two faults that one repair takes away are no pair") {
    // Both coils are read open in the hand: the pack is renewed once, whichever of them is at fault.
    MatchOptions options;
    options.two_faults = true;
    const Job job = job_of(cab_blower(), {"lo,ml,mh blower dead", "unplug C303, R1.1 to R1.2 open",
                                          "unplug C303, R1.3 to R1.4 open", "key run, hi blower normal"});
    const MatchAnswer answer = match(solver(), cab_blower(), job, options);
    CHECK(answer.pairs_asked);
    REQUIRE_FALSE(answer.pairs.empty());
    for (const FaultPair& pair : answer.pairs) {
        INFO(pair.faults[0] << " and " << pair.faults[1]);
        CHECK(pair.repairs[0] != pair.repairs[1]);
    }
}

TEST_CASE("a dragging motor is a suspect together with the limiter that it opens") {
    const JobReading reading = read_job_file(PROJECT_DIR "/scenarios/bookmobile/only-high.job.toml");
    REQUIRE(reading.job);
    const MatchAnswer answer = match_all(*reading.job);
    CHECK(answer.candidates.front().fault == "R1 limiter open");
    const Candidate* drag = find(answer, "M1 drag");
    REQUIRE(drag != nullptr);
    REQUIRE(drag->led_to.size() == 1);
    CHECK(drag->led_to.front().fault == "R1 limiter open");
    CHECK(drag->led_to.front().place == "R1");
    CHECK(drag->probability > 0.02);
    CHECK(drag->probability < answer.candidates.front().probability);
    // A motor that is open heats nothing.
    const Candidate* open = find(answer, "M1 open");
    if (open != nullptr) CHECK(open->led_to.empty());
}

TEST_CASE(
    "blocked air is named among what may have opened a limiter (reference parts 2.3, S27: lost airflow trips it)") {
    const MatchAnswer answer =
        match_all(job_of(cab_blower(), {"lo,ml,mh blower dead", "hi blower fast", "hi air weak"}));
    const Candidate* limiter = find(answer, "R1 limiter open");
    REQUIRE(limiter != nullptr);
    const auto share_of = [&](const std::string& cause) {
        const auto found = std::find_if(limiter->caused_by.begin(), limiter->caused_by.end(),
                                        [&](const LikelyCause& one) { return one.fault == cause; });
        return found == limiter->caused_by.end() ? 0.0 : found->probability;
    };
    CHECK(share_of("M1 blocked-air") > 0.05);
    // The blower that runs fast drags on nothing.
    CHECK(share_of("M1 blocked-air") > share_of("M1 drag"));
}
