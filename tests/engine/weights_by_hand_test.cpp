// What weighs suspects, by figures worked out by hand: shares of logarithms, spreads, moments, what was fitted, alikes.
#include <cmath>
#include <limits>

#include "engine/diagnosis/cause_shares.hpp"
#include "engine/diagnosis/job_at_hand.hpp"
#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/priors.hpp"
#include "engine/diagnosis/same_as.hpp"
#include "engine/diagnosis/suspect.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/word_chances.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

Suspect suspect_with(double log_likelihood) {
    Suspect suspect;
    suspect.mode = row_called(cab_blower(), "542 chafe");
    suspect.curves.resize(2);
    suspect.curves[0].where = 0.25;
    suspect.curves[1].where = 0.75;
    for (SizeCurve& curve : suspect.curves) {
        curve.share = 0.5;
        suspect.pieces.push_back({0, 1, curve.where, log_likelihood, std::log(0.25)});
        suspect.pieces.push_back({1, 3, curve.where, log_likelihood, std::log(0.25)});
    }
    suspect.best = suspect.pieces.front();
    return suspect;
}

double prior_of(const Job& job, const std::string& fault) {
    const Priors priors = priors_of(cab_blower(), job);
    const FaultMode* const row = row_called(cab_blower(), fault);
    for (std::size_t i = 0; i < cab_blower().modes.size(); ++i) {
        if (cab_blower().modes[i].get() == row) return priors.modes[i];
    }
    return 0;
}

/// How much likelier the fault is beside 804 open with that job than with none.
double raised(const Job& job, const std::string& fault) {
    const double now = prior_of(job, fault) / prior_of(job, "804 open");
    return now / (prior_of({}, fault) / prior_of({}, "804 open"));
}

}  // namespace

TEST_CASE("shares of logarithms: none of nothing, and none where nothing is possible") {
    CHECK(weights_of_logs(std::vector<double>{}).empty());
    CHECK(weights_of_logs(std::vector<double>{-infinite, -infinite}) == std::vector<double>{0, 0});
    CHECK(weights_of_logs(std::vector<double>{0, -infinite}) == std::vector<double>{1, 0});
}

TEST_CASE("a covariance that is no number weighs nothing, and leaves a reading as it was") {
    const JointNormal normal(std::vector<double>{std::nan(""), 0, 0, 1}, 2);
    const std::vector<double> residuals{0.4, 0.1};
    CHECK_FALSE(normal.can_be_weighed());
    CHECK(normal.log_density(residuals) == -infinite);
    CHECK(normal.given_the_others(residuals, 0).residual == 0.4);
    CHECK(normal.given_the_others(residuals, 0).sigma == infinite);
}

TEST_CASE("a suspect's spread is that of its pieces; without any it has none") {
    Suspect unsolved;
    unsolved.mode = row_called(cab_blower(), "542 chafe");
    CHECK_FALSE(size_spread(unsolved));
    CHECK_FALSE(place_spread(unsolved));
    CHECK(size_samples(unsolved, 3).size() == 1);
    const Suspect even = suspect_with(-3);
    CHECK(size_spread(even)->low == 1);
    CHECK(size_spread(even)->high == 3);
    // Each place stands for its half of the wire.
    CHECK(place_spread(even)->low == Approx(0));
    CHECK(place_spread(even)->high == Approx(1));
    double sum = 0;
    for (const SizeSample& sample : size_samples(even, 4)) sum += sample.share;
    CHECK(sum == Approx(1));
    // Where no piece is possible, nothing narrows the sizes that were solved, and the first stands for all.
    const Suspect impossible = suspect_with(-infinite);
    CHECK(size_spread(impossible)->low == 1);
    CHECK(size_spread(impossible)->high == 3);
    CHECK(size_samples(impossible, 4).size() == 1);
    CHECK(size_samples(impossible, 4).front().share == 1);
}

TEST_CASE("a size that was solved already is kept as it was") {
    SizeCurve curve;
    for (const double size : {3.0, 1.0, 2.0, 1.0}) {
        CurvePoint point;
        point.at = std::floor(size);
        point.size = static_cast<double>(curve.points.size());
        curve.insert(point);
    }
    REQUIRE(curve.points.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) CHECK(curve.points[i].at == static_cast<double>(i + 1));
    CHECK(curve.points[0].size == 1);
}

TEST_CASE("what is handled with no look before it: the fault was mostly there, and its place changes most") {
    // 0.8 of those who handle a harness do so while it shows: 0.8 x 0.4 + 0.2 x 0.6 where it is seen and stands here.
    const Moment here{0, -50, true, true};
    const Moment elsewhere{0, -50, true, false};
    CHECK(score_moments(std::vector{here}) == Approx(std::log(0.8 * 0.4 + 0.2 * 0.6)).margin(1e-9));
    CHECK(score_moments(std::vector{elsewhere}) == Approx(std::log(0.8 * 0.9 + 0.2 * 0.1)).margin(1e-9));
    // Told of while it was handled, it showed for certain.
    Moment told = here;
    told.shows = -0.2;
    told.told = true;
    CHECK(score_moments(std::vector{told}) == Approx(-0.2).margin(1e-9));
}

TEST_CASE("telling it once more without a condition adds nothing to a condition that was named") {
    Moment hot{0, -50, false, false, {}, true, Trigger::heat};
    Moment bare{0, -50, false, false, {}, true};
    for (const Trigger trigger : all_triggers) {
        const double named = score_conditions_told(std::vector{hot}, trigger);
        CHECK(score_conditions_told(std::vector{hot, bare}, trigger) == Approx(named));
        CHECK(score_conditions_told(std::vector{bare, hot}, trigger) == Approx(named));
        CHECK(score_conditions_told(std::vector{bare}, trigger) == Approx(std::log(told_with(trigger, {}))));
    }
}

TEST_CASE("faults that are alike by the graph are parted by no gauge, no eye and no time") {
    const Circuit& circuit = two_controls();
    const Lookalikes lookalikes(solver(), circuit);
    std::size_t pairs = 0;
    for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const FaultMode& a = *circuit.modes[i];
            const FaultMode& b = *circuit.modes[j];
            const bool alike = lookalikes.by_graph(a, b);
            CHECK(alike == lookalikes.by_graph(b, a));
            if (!alike) continue;
            ++pairs;
            INFO(a.phrase() << " and " << b.phrase());
            CHECK(a.is(ModeFact::outside_circuit) == b.is(ModeFact::outside_circuit));
            CHECK(a.is(ModeFact::only_sometimes) == b.is(ModeFact::only_sometimes));
            CHECK(a.size.has_value() == b.size.has_value());
            for (const FaultMode* one : {&a, &b}) CHECK(one->fault_class != FaultClass::fuse_itself);
        }
    }
    CHECK(pairs > 0);
    const auto alike = [&](const char* a, const char* b) {
        return lookalikes.by_graph(*row_called(circuit, a), *row_called(circuit, b));
    };
    CHECK_FALSE(alike("30 open", "10 open"));
    CHECK_FALSE(alike("30 open", "30 resistance"));
    CHECK_FALSE(alike("30 open", "F2 blown"));
    CHECK_FALSE(alike("30 open", "M1 seized"));
    CHECK_FALSE(alike("P1 stuck open", "P1 pressure"));
}

TEST_CASE("a fault too small for any meter looks like none, at whatever size and place it is asked first") {
    Lookalikes lookalikes(solver(), cab_blower());
    const FaultMode& joint = *row_called(cab_blower(), "C101.4 resistance");
    CHECK(lookalikes.by_numbers(joint, 1e-6, 0.5, nullptr, 0));
    CHECK_FALSE(lookalikes.by_numbers(joint, 1, 0.5, nullptr, 0));
    CHECK(lookalikes.by_numbers(joint, 1e-6, 0.5, nullptr, 0));
    const FaultMode& chafe = *row_called(cab_blower(), "542 chafe");
    CHECK(lookalikes.by_numbers(chafe, 1e8, 0.2, nullptr, 0));
    CHECK(lookalikes.by_numbers(chafe, 1e8, 0.8, nullptr, 0));
    CHECK_FALSE(lookalikes.by_numbers(chafe, 0.3, 0.8, nullptr, 0));
}

TEST_CASE(
    "readings after a repair tell of the fault, but for a fuse that was looked at, and only where one was mended") {
    Job job = job_of(cab_blower(), {"hi blower dead"});
    const auto add_after = [&](const std::string& line) {
        Problems problems;
        add_reading_after(job, cab_blower(), typed(line), problems);
        REQUIRE_FALSE(problems.has_errors());
    };
    job.repaired = {{"C101.4", "new terminal"}};
    CHECK(job_at_hand(job).readings.size() == 1);
    add_after("hi blower normal");
    add_after("fuse F7 good");
    add_after("fuse F7 blown");
    const Job whole = job_at_hand(job);
    REQUIRE(whole.readings.size() == 3);
    CHECK(whole.after.empty());
    for (std::size_t i = 1; i < 3; ++i) {
        CHECK(whole.readings[i].state.mended == std::vector<std::string>{"C101.4"});
        CHECK(whole.readings[i].id.starts_with("after "));
    }
    CHECK(mended_by_now(whole) == std::vector<std::string>{"C101.4"});
    job.repaired = {{"nothing", "all well"}};
    CHECK(job_at_hand(job).readings.size() == 1);
    CHECK(mended_by_now(Job{}).empty());
}

TEST_CASE("the shares of causes without one case: its class and its sort of joint are the rarer") {
    const CauseShares& usual = CauseShares::usual();
    const FaultMode& plug = *row_called(cab_blower(), "C101.4 open");
    const FaultMode& ground = *row_called(cab_blower(), "G201 open");
    const FaultMode& motor = *row_called(cab_blower(), "M1 seized");
    const auto of = [&](const CauseShares& shares, const FaultMode& mode) {
        return shares.of_thing(cab_blower(), mode, CircuitPurpose::blower);
    };
    const CauseShares rest = usual.without(cab_blower(), plug);
    CHECK(of(rest, plug) < of(usual, plug));
    CHECK(of(rest, motor) > of(usual, motor));
    CHECK(of(rest, plug) / of(rest, ground) < of(usual, plug) / of(usual, ground));
}

TEST_CASE(
    "what was fitted is rarely the root, a plug that was changed least of all, and a second victim has its cause") {
    const PartId motor = cab_blower().find_part("M1");
    const PartId pack = cab_blower().find_part("R1");
    Job job;
    // A new plug: its cavities are new, those of another are not.
    job.fitted = {{{}, "today", "C304"}};
    CHECK(raised(job, "C304.1 open") == Approx(0.3));
    CHECK(raised(job, "C303.4 open") == Approx(1));
    job.fitted = {{{}, "a year ago", "C304"}};
    CHECK(raised(job, "C304.1 open") == Approx(1));
    job.fitted = {{motor, "today"}};
    CHECK(raised(job, "M1 open") == Approx(0.3));
    // The second pack: its plug ten times, and the motor behind it three times.
    job.fitted = {{pack, "the second one"}};
    CHECK(raised(job, "C303.4 open") == Approx(10));
    CHECK(raised(job, "M1 drag") == Approx(3));
    CHECK(raised(job, "R1 limiter open") == Approx(1));
    // A second motor says nothing of motors; a second plug is no part whose plug would be at fault.
    job.fitted = {{motor, "the second one"}};
    CHECK(raised(job, "C304.1 open") == Approx(10));
    CHECK(raised(job, "M1 open") == Approx(1));
    job.fitted = {{{}, "the second one", "C303"}};
    CHECK(raised(job, "M1 drag") == Approx(1));
    // Of two lines the one that says it failed again counts.
    job.fitted = {{pack, "today"}, {motor, "the second one"}};
    CHECK(raised(job, "M1 open") == Approx(1));
    CHECK(raised(job, "R1 limiter open") == Approx(0.3));
}

TEST_CASE("rust and water make joints poor and open, not wires rub through") {
    const auto told = [](const char* words) {
        Job job;
        job.history = {std::string("C305 ") + words};
        return raised(job, "C305.1 open");
    };
    CHECK(told("was wet") > 1.5);
    CHECK(told("has rust") == Approx(told("was wet")));
    CHECK(told("was moved") == Approx(1));
}
