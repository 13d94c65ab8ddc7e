// How far readings may be off, alone and together, by figures worked out by hand.
#include <algorithm>
#include <cmath>

#include "engine/diagnosis/scoring.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/planning/blind_readings.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/stop_advice.hpp"
#include "engine/planning/test_minutes.hpp"
#include "engine/readings/accuracy.hpp"
#include "engine/readings/prediction.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::measured;

namespace {

const FaultMode* mode_called(const std::string& phrase) {
    const auto found = std::find_if(cab_blower().modes.begin(), cab_blower().modes.end(),
                                    [&](const ModePtr& mode) { return mode->phrase() == phrase; });
    REQUIRE(found != cab_blower().modes.end());
    return found->get();
}

ReadValue value_of(const std::string& typed) {
    return measured<VoltsReading>("hi M1.1 to B1- " + typed).value;
}

}  // namespace

TEST_CASE("a value typed as about is known to a twentieth and a digit") {
    const Accuracy meter = read_accuracy("0.8%+3digits");
    // Two sigma are 0.8 % of 12 V and three times 0.01 V.
    CHECK(instrument_sigma(meter, value_of("12.00V")) == Approx((0.096 + 0.03) / 2));
    // 5 % of 12 V and a whole volt, beside half of (0.096 + 3) V.
    CHECK(instrument_sigma(meter, value_of("~12V")) == Approx(std::hypot(1.6, 3.096 / 2)));
    CHECK(instrument_sigma(meter, value_of("~12.0V")) == Approx(std::hypot(0.7, (0.096 + 0.3) / 2)));
    // The percentage is the scale of the instrument, its digits are not.
    CHECK(scale_sigma(meter, 12) == Approx(0.048));
}

TEST_CASE(
    "a meter of 0.8 % and 3 digits is within 0.13 V at 12.60 V, a clamp of 2.5 % and 30 digits within 0.80 A (E17)") {
    CHECK(read_accuracy("0.8%+3digits").limit(12.60, 0.01) == Approx(0.1308));
    CHECK(read_accuracy("2.5%+0.3A").limit(20, 0.01) == Approx(0.80));
    CHECK(read_accuracy("2.5%+30digits").limit(20, 0.01) == Approx(0.80));
}

TEST_CASE("a battery that nothing tells lies anywhere in the range of its system") {
    // A uniform of width w has the sigma w / sqrt(12): 11.5 to 15 V, 23 to 30 V.
    const Supply low = supply_of(cab_blower(), KeyPosition::run, false);
    CHECK(low.mean == Approx(13.25));
    CHECK(low.sigma == Approx(1.0104).epsilon(1e-4));
    const auto lorry = scenario_circuit("lorry-fan.toml");
    const Supply high = supply_of(*lorry, KeyPosition::run, false);
    CHECK(high.mean == Approx(26.5));
    CHECK(high.sigma == Approx(2.0207).epsilon(1e-4));
}

TEST_CASE("readings in two positions share a supply that nobody has read") {
    const Job job = job_of(cab_blower(), {"hi M1.1 to B1- 12.0V", "mh M1.1 to B1- 12.0V"});
    const Questions questions = make_questions(solver(), cab_blower(), job);
    REQUIRE(questions.numbers.size() == 2);
    const Prediction healthy = Predictor(solver(), questions).predict(nullptr, {});
    REQUIRE(healthy.ok);
    const double together = healthy.covariance[1] / std::sqrt(healthy.covariance[0] * healthy.covariance[3]);
    // A volt of the battery moves both by nearly a volt; all else is hundredths.
    CHECK(together > 0.95);
    CHECK(together <= 1);
}

TEST_CASE("two readings of one meter are likelier off the same way than apart, those of meter and clamp are not") {
    const auto score = [](const std::string& first, const std::string& second) {
        const Job job = job_of(cab_blower(), {first, second});
        const Questions questions = make_questions(solver(), cab_blower(), job);
        REQUIRE(questions.numbers.size() == 2);
        Prediction exact;
        exact.ok = true;
        exact.mean = {10, 10};
        exact.variance = exact.supply_variance = {0.0001, 0.0001};
        exact.mean.resize(questions.cells.size(), 10);
        exact.variance.resize(questions.cells.size(), 0.0001);
        exact.covariance = {0.0001, 0, 0, 0.0001};
        return Scorer(questions).score(exact);
    };
    const double same_way = score("key run, hi F7.2 to B1- 10.08V", "key run, hi C304.1 to B1- 10.08V");
    const double apart = score("key run, hi F7.2 to B1- 10.08V", "key run, hi C304.1 to B1- 9.92V");
    CHECK(same_way > apart + 1);
}

TEST_CASE("a temperature counts above the air around, a rise by itself") {
    const auto chance = [](const std::string& reading) {
        const Job job = job_of(cab_blower(), {reading});
        const Questions questions = make_questions(solver(), cab_blower(), job);
        const Prediction poor = Predictor(solver(), questions).predict(mode_called("C101.4 resistance"), {0.1, 0.5});
        REQUIRE(poor.words.size() == 1);
        return poor.words.front();
    };
    // The air is 40 C (default table).
    CHECK(chance("hi C101 temp 100C") == Approx(chance("hi C101 rise 60C")));
    CHECK(chance("hi C101 temp 100C") != Approx(chance("hi C101 rise 100C")).epsilon(0.01));
}

TEST_CASE("a state that overheats something is safe for a third of the time that it takes") {
    const Job job = job_of(cab_blower(), {"key run, hi blower hums", "key run, hi clamp 542 73A", "fuse F7 good"});
    const MatchOptions options;
    const Outlook outlook(solver(), cab_blower(), job, options);
    const ModePtr seized = *std::find_if(cab_blower().modes.begin(), cab_blower().modes.end(),
                                         [](const ModePtr& mode) { return mode->phrase() == "M1 seized"; });
    const Fault fault{seized, 0, 0.5, {}, {}};
    const HeatModel heat(solver(), cab_blower());
    std::size_t looked_at = 0;
    std::size_t by_limiter = 0;
    for (const TestCandidate& test : outlook.future.tests) {
        const auto safe = outlook.dangers.safe_time(test);
        if (!safe) continue;
        const State& state = outlook.future.questions.states[test.state].state;
        const AftermathResult run = run_aftermath(solver(), heat, state, std::span(&fault, 1), 3600);
        REQUIRE(run);
        const auto harm = std::find_if(run->events.begin(), run->events.end(), [](const HeatEvent& event) {
            return event.kind == HeatEventKind::harmed || event.kind == HeatEventKind::limiter_opens;
        });
        if (harm == run->events.end() || run->events.front().kind == HeatEventKind::fuse_opens) continue;
        INFO(write_test(cab_blower(), test.test) << ": " << harm->what << " after " << harm->seconds << " s");
        CHECK(safe->seconds <= 1.01 * std::max(harm->seconds / 3, 5.0));
        ++looked_at;
        by_limiter += harm->kind == HeatEventKind::limiter_opens ? 1 : 0;
    }
    CHECK(looked_at > 3);
    // A limiter that opens is gone for good: the pack is renewed.
    CHECK(by_limiter > 0);
}

TEST_CASE("testing does not end while a test is left and no repair is nineteen in twenty likely") {
    std::size_t between = 0;
    for (const auto& readings : {std::vector<std::string>{"lo,ml,mh blower dead", "hi blower normal"},
                                 {"lo,ml,mh,hi blower dead", "fuse F7 blown"},
                                 {"key run, hi M1.1 to B1- 10.2V", "key run, hi B1+ to B1- 14.1V"}}) {
        const Job job = job_of(cab_blower(), readings);
        const MatchOptions options;
        const Outlook outlook(solver(), cab_blower(), job, options);
        REQUIRE_FALSE(outlook.standings.groups.empty());
        double likeliest = 0;
        for (const RepairGroup& group : outlook.standings.groups) likeliest = std::max(likeliest, group.probability);
        INFO(readings.front() << ": " << likeliest);
        CHECK(stop_advice(outlook, true).has_value() == (likeliest >= 0.95));
        CHECK(stop_advice(outlook, false));
        between += likeliest > 0.3 && likeliest < 0.95 ? 1 : 0;
    }
    CHECK(between > 0);
}

TEST_CASE("a repair is proved by the readings that it must move") {
    // With 0.3 ohm in C101.4 the motor's feed reads 10.2 V instead of 13.8 V; the battery before it hardly moves.
    const JobReading weak_air = read_job_file(PROJECT_DIR "/scenarios/bookmobile/weak-air.job.toml");
    REQUIRE(weak_air.job);
    Problems problems;
    Job job = *weak_air.job;
    add_reading(job, cab_blower(), TypedText::argument("--read", "key run, hi C101.4@541 to C101.4@542 3.72V"),
                problems);
    REQUIRE_FALSE(problems.has_errors());
    const MatchOptions options;
    const Outlook outlook(solver(), cab_blower(), job, options);
    const auto stop = stop_advice(outlook, false);
    REQUIRE(stop);
    INFO(stop->why);
    CHECK(stop->why.find("reading 5 again must be 13.") != std::string::npos);
    CHECK(stop->why.find("reading 2 again") == std::string::npos);
    CHECK(stop->why.find("reading 3 again") == std::string::npos);
}

TEST_CASE("a reading under load is not called one without current, however little it sees") {
    // F7.2 stands before most joints: on high some 20 A run past it and move it by a tenth of a volt at the most.
    const Job job = job_of(cab_blower(), {"lo,ml,mh,hi blower slow", "key run, hi B1+ to B1- 14.10V",
                                          "key run, hi F7.2 to B1- 13.95V", "key run, off C101.4@542 to B1- 14.10V"});
    const MatchOptions options;
    const auto weighed = weigh(solver(), cab_blower(), job, options);
    const std::vector<std::string> notes = blind_readings(solver(), *weighed);
    const auto named = [&](const std::string& id) {
        return std::any_of(notes.begin(), notes.end(),
                           [&](const std::string& note) { return note.starts_with("reading " + id + " "); });
    };
    CHECK(named("4"));
    CHECK_FALSE(named("3"));
}

TEST_CASE("a wire is reached by the end that takes less strip-down") {
    // 542 runs from C101 (25 minutes) to M1's plug C304, which lies open behind the glovebox (5 minutes).
    TestCandidate clamp;
    clamp.kind = TestKind::clamp;
    clamp.places = {"542"};
    const std::vector<Opening> openings = openings_of(cab_blower(), clamp, {});
    REQUIRE(openings.size() == 1);
    CHECK(openings[0].name == "glovebox");
    CHECK(openings[0].minutes == 5);
}
