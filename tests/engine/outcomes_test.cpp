// Readings as outcomes: the bits of a number in bins, where a number is cut, and what lies between two sizes solved.
#include "engine/planning/outcomes.hpp"

#include <cmath>
#include <numbers>

#include "engine/diagnosis/size_curve.hpp"
#include "engine/planning/information.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

namespace {

/// Chance of a standard normal above z.
double above(double z) {
    return 0.5 * std::erfc(z / std::numbers::sqrt2);
}

double bits_of_share(double p) {
    return p <= 0 || p >= 1 ? 0 : -p * std::log2(p) - (1 - p) * std::log2(1 - p);
}

/// Two equal possibilities that lie `apart` sigma from each other, from `start` on.
double binned(double apart, const OutcomeRules& rules, double start = 0) {
    const std::vector<Possibility> two{{0.5, 0, start, 1}, {0.5, 1, start + apart, 1}};
    return information_of_number(two, 2, rules);
}

/// The same without bins: 1 - E[log2(1 + exp(-d x + d d / 2))] with x of N(d, 1), by Simpson's rule.
double exact(double apart) {
    constexpr int steps = 4000;
    constexpr double reach = 9;
    double sum = 0;
    for (int i = 0; i <= steps; ++i) {
        const double z = -reach + 2 * reach * i / steps;
        const double density = std::exp(-0.5 * z * z) / std::sqrt(2 * std::numbers::pi);
        const double lost = std::log2(1 + std::exp(-apart * z - apart * apart / 2));
        sum += (i == 0 || i == steps ? 1 : i % 2 ? 4 : 2) * density * lost;
    }
    return 1 - sum * 2 * reach / steps / 3;
}

/// A volts test whose suspects read as given, each in a group of its own.
struct Suspected {
    double volts;
    double weight;
    std::size_t group;
};

std::vector<double> cuts_of(const std::vector<Suspected>& suspected, double sigma) {
    Standings standings;
    for (const Suspected& one : suspected) {
        standings.groups.resize(std::max(standings.groups.size(), one.group + 1));
        Standing standing{0, one.group, one.weight, {}};
        standing.prediction.mean = {one.volts};
        standing.prediction.variance = {sigma * sigma};
        standing.prediction.supply_variance = {0};
        standings.list.push_back(standing);
    }
    TestCandidate test;
    test.kind = TestKind::volts;
    const Job job;
    const Outcomes outcomes = outcomes_of(cab_blower(), job, Weighed{}, test, standings, SupplyKnown::no);
    CHECK(outcomes.labels.size() == outcomes.cuts.size() + 1);
    return outcomes.cuts;
}

/// A curve over a scale from 0 to 1 with one number at its two ends.
SizeCurve two_ends(double first_mean, double first_variance, double last_mean, double last_variance) {
    SizeCurve curve;
    curve.range = 1;
    const auto end = [](double at, double mean, double variance) {
        CurvePoint point;
        point.at = at;
        point.size = std::exp(at);
        for (Prediction& world : point.worlds) {
            world.ok = true;
            world.mean = {mean};
            world.variance = {variance};
            world.supply_variance = {0};
            world.covariance = {variance};
        }
        return point;
    };
    curve.insert(end(0, first_mean, first_variance));
    curve.insert(end(1, last_mean, last_variance));
    return curve;
}

}  // namespace

TEST_CASE("two bins halve the range that ten sigma span: the bits are those of one threshold") {
    // Bins reach from five sigma below the lower to five above the upper, so that two meet in the middle: a binary
    // symmetric channel with the error Q(d / 2), 1 - H(Q(d / 2)) bits.
    for (const double apart : {1.0, 2.0, 3.0}) {
        INFO(apart << " sigma");
        CHECK(binned(apart, {0, 0, 2, 2}) == Approx(1 - bits_of_share(above(apart / 2))).epsilon(1e-5));
    }
}

TEST_CASE("bins of half a sigma keep what a number tells of two possibilities") {
    for (const double apart : {0.5, 1.0, 2.0, 3.0}) {
        for (const double start : {0.0, 0.13, 0.29}) {
            INFO(apart << " sigma from " << start);
            const double told = binned(apart, {0, 0, 2, 400}, start);
            // Bins can lose bits and make none: about width squared / 12 of them (Sheppard), a 48th for half a sigma.
            CHECK(told <= exact(apart) + 1e-6);
            CHECK(told > 0.97 * exact(apart));
        }
    }
}

TEST_CASE("a probe that may not touch tells less, and nothing where all read zero") {
    const std::vector<Possibility> dead_or_live{{0.5, 0, 0, 0.05}, {0.5, 1, 12, 0.05}};
    const double firm = information_of_number(dead_or_live, 2, {0, 0, 2, 400});
    CHECK(firm == Approx(1).epsilon(1e-4));
    // A Z-channel: one in five live readings shows zero. H(0.4) - 0.5 H(0.2) = 0.6100 bits.
    const double loose = information_of_number(dead_or_live, 2, {0, 0.2, 2, 400});
    CHECK(loose == Approx(bits_of_share(0.4) - 0.5 * bits_of_share(0.2)).epsilon(0.02));
}

TEST_CASE("no cut lies between readings that a meter hardly tells apart") {
    // With a meter of 63 mV at 12 V one sigma is 118 mV, so these are 1.5 sigma apart: a cut between them would tell
    // 0.8 (1 - H(Q(0.76))) = 0.19 bits at the most, and be read wrongly every fourth or fifth time.
    const std::vector<double> cuts = cuts_of({{6, 0.2, 0}, {12, 0.4, 1}, {12.18, 0.4, 2}}, 0.1);
    REQUIRE(cuts.size() == 1);
    CHECK(cuts[0] > 6.5);
    CHECK(cuts[0] < 11.5);
    // Six sigma apart it is made, in the middle half of the gap.
    const std::vector<double> both = cuts_of({{6, 0.2, 0}, {12, 0.4, 1}, {12.6, 0.4, 2}}, 0.1);
    REQUIRE(both.size() == 2);
    CHECK(both[1] >= 12.15);
    CHECK(both[1] <= 12.45);
}

TEST_CASE("a cut is a round figure where the gap has one, and stays inside a gap that has none") {
    const std::vector<double> wide = cuts_of({{0.2, 0.5, 0}, {13.9, 0.5, 1}}, 0.05);
    REQUIRE(wide.size() == 1);
    CHECK(wide[0] == Approx(7));
    const std::vector<double> narrow = cuts_of({{0.6, 0.5, 0}, {0.8, 0.5, 1}}, 0.01);
    REQUIRE(narrow.size() == 1);
    CHECK(narrow[0] == Approx(0.7));
}

TEST_CASE("where many readings are possible, cuts are tried over their whole range") {
    std::vector<Suspected> suspected;
    for (std::size_t i = 0; i < 100; ++i)
        suspected.push_back({0.1 + 0.2 * static_cast<double>(i), 0.01, i < 80 ? 0U : 1U});
    const std::vector<double> cuts = cuts_of(suspected, 0.01);
    REQUIRE_FALSE(cuts.empty());
    // The groups meet between 15.9 and 16.1 V; of forty cuts tried none is further off than half a volt.
    const bool near = std::any_of(cuts.begin(), cuts.end(), [](double cut) { return std::abs(cut - 16) < 0.51; });
    CHECK(near);
}

TEST_CASE(
    "between two sizes each neighbour's spread counts by how near it stands, and the curve's own error is added") {
    SizeCurve curve = two_ends(10, 0.04, 6, 0.16);
    // At a quarter: 0.75 x 0.04 + 0.25 x 0.16 = 0.07, and one sigma of 5 % of the step of 4: 0.2 squared.
    const Prediction quarter = predict_between(curve, 0.25, 0);
    CHECK(quarter.mean[0] == Approx(9));
    CHECK(quarter.variance[0] == Approx(0.07 + 0.04));
    CHECK(predict_between(curve, 0.75, 0).variance[0] == Approx(0.13 + 0.04));
}

TEST_CASE("a whole span of sizes is weighed with the wider spread of its two ends") {
    const Job job = job_of(cab_blower(), {"key run, hi M1.1 to B1- 8.00V"});
    const Questions questions = make_questions(solver(), cab_blower(), job);
    REQUIRE(questions.numbers.size() == 1);
    const NumberObservation& number = questions.numbers.front();
    const Scorer scorer(questions);
    const auto by_hand = [&](double mean, double variance) {
        const double sigma = std::sqrt(variance + number.sigma * number.sigma);
        const double right = std::exp(log_normal_density(8 - mean, sigma));
        return std::log((1 - number.wrong.chance) * right + number.wrong.chance * number.wrong.density);
    };
    for (const bool turned : {false, true}) {
        // 0.09 is the wider; the curve may be off by 5 % of its step of 1 V.
        SizeCurve curve = turned ? two_ends(8.5, 0.09, 7.5, 0.01) : two_ends(8.5, 0.01, 7.5, 0.09);
        const std::vector<Piece> pieces = weigh_curve(curve, scorer, Story::plain);
        REQUIRE(pieces.size() > 10);
        double share = 0;
        for (const Piece& piece : pieces) {
            CHECK(piece.log_likelihood == Approx(by_hand(8.5 - piece.at, 0.09 + 0.0025)).epsilon(1e-6));
            share += std::exp(piece.log_share);
        }
        CHECK(share == Approx(1));
    }
}
