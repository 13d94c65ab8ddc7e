#include "engine/readings/joint_normal.hpp"

#include <cmath>
#include <limits>

#include "engine/planning/information.hpp"
#include "engine/solve/jobs.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

/// Three readings that share an unknown: 0.2 own spread each, 1.0 shared.
std::vector<double> shared_covariance() {
    std::vector<double> m(9, 1.0);
    for (std::size_t i = 0; i < 3; ++i) m[i * 3 + i] += 0.04;
    return m;
}

}  // namespace

TEST_CASE("a joint normal of independent readings is the product of its parts") {
    const JointNormal normal(std::vector<double>{0.04, 0, 0, 0.25}, 2);
    const std::vector<double> residuals{0.3, -0.7};
    CHECK(normal.log_density(residuals) == Approx(log_normal_density(0.3, 0.2) + log_normal_density(-0.7, 0.5)));
}

TEST_CASE("readings that share an unknown may be off together, but not apart") {
    const JointNormal normal(shared_covariance(), 3);
    CHECK(normal.log_density(std::vector<double>{0.9, 0.9, 0.9}) >
          normal.log_density(std::vector<double>{0.9, -0.9, 0.9}) + 10);
}

TEST_CASE("leaving a reading out of the precision form is the normal without it") {
    const JointNormal two(std::vector<double>{1.04, 1, 1, 1.04}, 2);
    const std::vector<double> residuals{0.4, 5.0, 0.5};
    // With the chance of being wrong so great that only the sum over subsets without reading 1 counts, what is left is
    // the others'.
    const std::vector<WrongReading> wrong{{0, 0}, {0.5, 1.0}, {0, 0}};
    const JointNormal all(shared_covariance(), 3, wrong);
    const double expected = log_add(std::log(0.5) + all.log_density(residuals),
                                    std::log(0.5) + two.log_density(std::vector<double>{0.4, 0.5}));
    CHECK(all.log_likelihood(residuals) == Approx(expected));
}

TEST_CASE("a joint normal of many readings is the one of few, longer") {
    // n readings that share one unknown: the covariance D + 1 has the inverse I/d - 1/(d (d + n)) and the determinant
    // d^n (1 + n/d) (Sherman and Morrison).
    for (const std::size_t n : {31u, 32u, 33u, 64u, 70u, 130u}) {
        const double d = 0.04;
        std::vector<double> m(n * n, 1.0);
        for (std::size_t i = 0; i < n; ++i) m[i * n + i] += d;
        const std::vector<WrongReading> wrong(n, {0.03, 1.0 / 16});
        const JointNormal normal(m, n, wrong);
        REQUIRE(normal.can_be_weighed());
        std::vector<double> residuals;
        for (std::size_t i = 0; i < n; ++i) residuals.push_back(0.1 * std::sin(static_cast<double>(3 * i)));
        double sum = 0;
        double squares = 0;
        for (const double r : residuals) {
            sum += r;
            squares += r * r;
        }
        const auto count = static_cast<double>(n);
        const double square = squares / d - sum * sum / (d * (d + count));
        const double log_determinant = count * std::log(d) + std::log1p(count / d);
        CHECK(normal.log_density(residuals) ==
              Approx(-0.5 * (count * std::log(2 * std::acos(-1.0)) + log_determinant + square)));
        const auto given = normal.given_the_others(residuals, 7);
        const double others = (sum - residuals[7]) / (d + count - 1);
        CHECK(given.residual == Approx(residuals[7] - others).margin(1e-9));
        // One of them is wrong by far: it is the one that is left out.
        residuals[n - 2] = 30;
        std::vector<double> probability;
        normal.log_likelihood(residuals, &probability);
        CHECK(probability[n - 2] > 0.99);
        CHECK(probability[n - 3] < 0.1);
    }
}

TEST_CASE("two wrong readings are left out together") {
    const JointNormal one(std::vector<double>{1.04}, 1);
    const JointNormal pair(std::vector<double>{1.04, 1, 1, 1.04}, 2);
    const std::vector<double> residuals{7.0, 5.0, 0.5};
    const std::vector<WrongReading> wrong{{0.5, 0.1}, {0.5, 0.1}, {0, 0}};
    const JointNormal all(shared_covariance(), 3, wrong);
    double expected = std::log(0.25) + all.log_density(residuals);
    expected = log_add(expected, std::log(0.25 * 0.1) + pair.log_density(std::vector<double>{5.0, 0.5}));
    expected = log_add(expected, std::log(0.25 * 0.1) + pair.log_density(std::vector<double>{7.0, 0.5}));
    expected = log_add(expected, std::log(0.25 * 0.01) + one.log_density(std::vector<double>{0.5}));
    CHECK(all.log_likelihood(residuals) == Approx(expected));
}

TEST_CASE("the reading that does not fit the others is the one called wrong") {
    const JointNormal normal(shared_covariance(), 3, std::vector<WrongReading>(3, {0.03, 1.0 / 16}));
    std::vector<double> probability;
    normal.log_likelihood(std::vector<double>{0.5, 4.0, 0.6}, &probability);
    CHECK(probability[1] > 0.99);
    CHECK(probability[0] < 0.1);
    CHECK(probability[2] < 0.1);
}

TEST_CASE("what is no covariance cannot be weighed, and says so at once") {
    const double no_number = std::numeric_limits<double>::quiet_NaN();
    const JointNormal broken(std::vector<double>{1, no_number, no_number, 1}, 2);
    CHECK_FALSE(broken.can_be_weighed());
    CHECK(broken.log_likelihood(std::vector<double>{0, 0}) == -std::numeric_limits<double>::infinity());
    const JointNormal negative(std::vector<double>{1, 2, 2, 1}, 2);
    CHECK_FALSE(negative.can_be_weighed());
    // Two readings of one value: singular by a digit, and still a covariance.
    CHECK(JointNormal(std::vector<double>{1, 1, 1, 1}, 2).can_be_weighed());
}

TEST_CASE("what the others leave of a residual") {
    const JointNormal normal(shared_covariance(), 3);
    const auto given = normal.given_the_others(std::vector<double>{1.0, 1.0, 1.0}, 0);
    // The shared unknown is seen twice: the mean of the others, shrunk a little towards 0.
    CHECK(given.residual == Approx(1.0 - 2.0 / 2.04).margin(1e-9));
    CHECK(given.sigma == Approx(std::sqrt(1.04 - 2.0 / 2.04)));
}

TEST_CASE("probabilities between bounds") {
    const double infinite = std::numeric_limits<double>::infinity();
    CHECK(normal_between(-infinite, infinite, 3, 1) == Approx(1));
    CHECK(normal_between(3, infinite, 3, 1) == Approx(0.5));
    CHECK(normal_between(-1.96, 1.96, 0, 1) == Approx(0.95).margin(1e-3));
}

TEST_CASE("a test whose outcomes agree tells nothing, one that parts two equal groups tells a bit") {
    const std::vector<Possibility> agree{{0.5, 0, 12.0, 0.1}, {0.5, 1, 12.0, 0.1}};
    CHECK(information_of_number(agree, 2, {}) == Approx(0).margin(1e-12));
    const std::vector<Possibility> apart{{0.5, 0, 12.0, 0.1}, {0.5, 1, 2.0, 0.1}};
    CHECK(information_of_number(apart, 2, {}) == Approx(1).margin(1e-6));
    const std::vector<Possibility> one_group{{0.5, 0, 12.0, 0.1}, {0.5, 0, 2.0, 0.1}};
    CHECK(information_of_number(one_group, 1, {}) == Approx(0).margin(1e-12));
}

TEST_CASE("an answer of zero is worth less than one that a loose probe cannot fake") {
    const OutcomeRules loose{0.03, 0.15, 2, 400};
    const std::vector<Possibility> zero{{0.5, 0, 12.0, 0.1}, {0.5, 1, 0.0, 0.1}};
    const std::vector<Possibility> other{{0.5, 0, 12.0, 0.1}, {0.5, 1, 6.0, 0.1}};
    CHECK(information_of_number(zero, 2, loose) < information_of_number(other, 2, loose) - 0.1);
}

TEST_CASE("jobs give the same numbers for any number of workers") {
    const auto numbers = [](int workers) {
        std::vector<double> numbers(200);
        run_jobs(numbers.size(), workers, [&](std::size_t i) { numbers[i] = std::sqrt(static_cast<double>(i)); });
        return numbers;
    };
    CHECK(numbers(1) == numbers(3));
    CHECK(numbers(1)[199] == Approx(std::sqrt(199.0)));
    run_jobs(0, 2, [](std::size_t) { FAIL("there is no job"); });
}

TEST_CASE("what readings tell of a quantity outside of them is its regression on them") {
    // One reading: the mean moves by c/v times the residual and the variance loses c^2/v (normal correlation).
    const JointNormal one(std::vector<double>{0.25}, 1);
    const JointNormal::Told told = one.told_of(std::vector<double>{0.1}, std::vector<double>{0.6});
    CHECK(told.mean == Approx(0.1 / 0.25 * 0.6));
    CHECK(told.variance == Approx(0.1 * 0.1 / 0.25));
    // Three readings that share the quantity, of variance 1: of n readings with own variance d it leaves d/(n + d).
    const JointNormal three(shared_covariance(), 3);
    const std::vector<double> with(3, 1.0);
    CHECK(1 - three.told_of(with, std::vector<double>{0, 0, 0}).variance == Approx(0.04 / 3.04));
    const JointNormal none(std::vector<double>{-1.0}, 1);
    CHECK(none.told_of(std::vector<double>{0.5}, std::vector<double>{1.0}).variance == 0);
}
