// A fuse of another rating than the diagram's: a suspect of its own, asked for by the number printed on it.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/priors.hpp"
#include "engine/planning/next.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/fuses.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

double chance_of(const Job& job, const std::string& fault) {
    MatchOptions options;
    options.keep = 1000;
    const MatchAnswer answer = match(solver(), cab_blower(), job, options);
    const auto found = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                    [&](const Candidate& candidate) { return candidate.fault == fault; });
    return found == answer.candidates.end() ? 0 : found->probability;
}

double chance_of(const std::vector<std::string>& readings, const std::string& fault) {
    return chance_of(job_of(cab_blower(), readings), fault);
}

}  // namespace

TEST_CASE("a wrong rating is in the catalogue with a prior") {
    const Circuit& circuit = cab_blower();
    const Priors priors = priors_of(circuit, {});
    bool found = false;
    for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
        if (circuit.modes[i]->phrase() != "F7 rating") continue;
        found = true;
        CHECK(priors.modes[i] > 1e-4);
        CHECK(priors.modes[i] < 0.02);
    }
    CHECK(found);
}

TEST_CASE("a smaller fuse than the diagram's explains one that goes sometimes (F33: 75 % for minutes)") {
    const std::vector<std::string> sometimes{"hi  blower normal", "fuse F7 sometimes-blown"};
    const double none = chance_of(std::vector<std::string>{"hi  blower normal"}, "F7 rating");
    const double before = chance_of(sometimes, "F7 rating");
    CHECK(before > 2 * none);
    // The number parts it from all else.
    auto other = sometimes;
    other.emplace_back("fuse F7 is a 20A");
    CHECK(chance_of(other, "F7 rating") > 0.5);
    auto right = sometimes;
    right.emplace_back("fuse F7 rating 40A");
    CHECK(chance_of(right, "F7 rating") < before / 10);
}

TEST_CASE("a fuse that goes again and again did not fail by itself (common practice, no source)") {
    const std::vector<std::string> once{"hi  blower dead", "fuse F7 blown"};
    const std::vector<std::string> again{"hi  blower dead", "fuse F7 sometimes-blown"};
    const double alone_once = chance_of(once, "F7 blown") / chance_of(once, "542 chafe");
    const double alone_again = chance_of(again, "F7 blown") / chance_of(again, "542 chafe");
    CHECK(alone_again < alone_once / 2);
}

TEST_CASE("the number on a fuse is the rating that is weighed") {
    const std::array ratings{10.0, 15.0, 20.0, 25.0, 30.0};
    for (std::size_t i = 1; i + 1 < ratings.size(); ++i) {
        const double amps = ratings[i];
        MatchOptions options;
        options.keep = 1000;
        const std::string number = "fuse F7 is a " + std::to_string(static_cast<int>(amps)) + "A";
        const MatchAnswer answer =
            match(solver(), cab_blower(), job_of(cab_blower(), {"hi  blower normal", "fuse F7 blown at hi", number}),
                  options);
        const auto rating = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                         [](const Candidate& candidate) { return candidate.fault == "F7 rating"; });
        REQUIRE(rating != answer.candidates.end());
        REQUIRE(rating->size);
        INFO(number << ": " << rating->size->best);
        // Nearer to this rating than to its neighbours.
        CHECK(rating->size->best > std::sqrt(ratings[i - 1] * amps));
        CHECK(rating->size->best < std::sqrt(amps * ratings[i + 1]));
    }
}

TEST_CASE("next asks for the number on a fuse that blows sometimes") {
    const NextAnswer next = next_tests(solver(), cab_blower(),
                                       job_of(cab_blower(), {"hi  blower normal", "fuse F7 sometimes-blown at hi"}));
    const auto asked = std::find_if(next.tests.begin(), next.tests.end(), [](const TestProposal& test) {
        return write_test(cab_blower(), test.test) == "fuse F7 rating";
    });
    REQUIRE(asked != next.tests.end());
    CHECK(asked == next.tests.begin());
    REQUIRE_FALSE(asked->expect.empty());
    for (const Expectation& one : asked->expect)
        CHECK(one.word == (one.fault == "F7 rating" ? "another number" : "40A"));
}

TEST_CASE("the number on a fuse is read, written and shown on the bench") {
    const auto number = measured<RatingReading>("fuse F7 is a 20A");
    CHECK(number.value.low == 20);
    CHECK(measured<RatingReading>("F7 is a 7.5A").value.low == 7.5);
    CHECK(measured<RatingReading>("fuse F7 rating 20A").value.low == 20);
    CHECK(measured<FuseReading>("fuse F7 holds").word == "good");
    CHECK(problem_of("fuse F7 is a 0A").message.find("0A") != std::string::npos);
    CHECK(problem_of("fuse F7 is a 20V").message == "'20V' is not in A");
    const Reading reading = reading_of("fuse F7 is a 20A");
    CHECK(write_reading(cab_blower(), reading) == "fuse F7 rating  20A");
    CHECK(same_measurement(reading_of(write_reading(cab_blower(), reading)).measurement, reading.measurement));
    Bench bench(solver(), exercise_with(scenario_circuit("cab-blower.toml"), {"F7 rating 20A"}));
    const ActionOutcome seen = act(bench, "fuse F7 rating");
    REQUIRE(seen.measured);
    CHECK(seen.measured->shown == "20 A");
    act(bench, "new F7");
    CHECK(act(bench, "fuse F7 rating").measured->shown == "40 A");
}

TEST_CASE("the rating nearest to a current is one that is made (ISO 8820-3)") {
    CHECK(nearest_fuse_rating(17.4) == 15);
    CHECK(nearest_fuse_rating(17.6) == 20);
    CHECK(nearest_fuse_rating(8.6) == 7.5);
    CHECK(nearest_fuse_rating(1000) == 120);
}
