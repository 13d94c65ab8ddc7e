// Published and computed problems of test sequencing (reference circuits_and_theory, T05 to T21). Sources and status
// stand beside each: MEMORY rows were checked by own dynamic programming when they were collected.
#include <array>
#include <cmath>
#include <vector>

#include "engine/planning/information.hpp"
#include "engine/planning/sequencing.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

/// Tests with sure outcomes: `rows[case][test]` is 0 or 1.
SequencingProblem sure_tests(const std::vector<double>& weights, const std::vector<std::vector<int>>& rows,
                             const std::vector<double>& minutes) {
    SequencingProblem problem;
    problem.weights = weights;
    for (std::size_t c = 0; c < weights.size(); ++c) problem.groups.push_back(c);
    for (std::size_t t = 0; t < minutes.size(); ++t) {
        SequencingTest test;
        test.minutes = minutes[t];
        test.outcomes = 2;
        for (const std::vector<int>& row : rows) {
            test.likelihood.push_back(row[t] == 0 ? 1 : 0);
            test.likelihood.push_back(row[t] == 0 ? 0 : 1);
        }
        problem.tests.push_back(test);
    }
    return problem;
}

/// Each test tells whether its own component is the faulty one.
SequencingProblem component_tests(std::vector<double> weights, const std::vector<double>& minutes) {
    std::vector<std::vector<int>> rows;
    for (std::size_t c = 0; c < weights.size(); ++c) {
        rows.emplace_back(minutes.size(), 0);
        if (c < minutes.size()) rows.back()[c] = 1;
    }
    return sure_tests(weights, rows, minutes);
}

/// The 1990 example of test sequencing: six states, five tests of unit cost.
SequencingProblem sequencing_example() {
    return sure_tests(
        {.70, .01, .02, .10, .05, .12},
        {{0, 0, 0, 0, 0}, {0, 1, 0, 0, 1}, {0, 0, 1, 1, 0}, {1, 0, 0, 1, 1}, {1, 1, 0, 0, 0}, {1, 1, 1, 1, 0}},
        {1, 1, 1, 1, 1});
}

const SequencingNode& behind(const SequencingNode& node, std::size_t outcome) {
    for (const SequencingNode::Branch& branch : node.branches) {
        if (branch.outcome == outcome) return *branch.then;
    }
    FAIL("no such outcome");
    return node;
}

}  // namespace

TEST_CASE("two tests behind one cover pay for it once") {
    // Three equal suspects, a minute a test, five for the cover: 6 minutes, and in two of three cases one more.
    SequencingProblem problem = component_tests({1, 1, 1}, {1, 1});
    problem.opening_minutes = {5};
    for (SequencingTest& test : problem.tests) test.openings = {0};
    const SequencingPlan plan = plan_sequence(problem);
    CHECK(plan.root->minutes == Approx(6));
    CHECK(plan.root->expected == Approx(6 + 2.0 / 3));
    CHECK(plan.root->worst == Approx(7));
}

TEST_CASE("T12, T13 (Pattipati and Alexandridis 1990, MEMORY, checked): the optimum is 2.18") {
    const SequencingPlan plan = plan_sequence(sequencing_example());
    CHECK(plan.exact);
    CHECK(plan.root->expected == Approx(2.18).epsilon(1e-9));
    // Enumeration shows two trees of 2.18, one from t2 (T13, COMPUTED) and one from t4: the tie is broken for T13's.
    SequencingProblem untied = sequencing_example();
    untied.tests[3].minutes += 1e-6;
    const SequencingPlan from_t2 = plan_sequence(untied);
    CHECK(from_t2.root->expected == Approx(2.18).epsilon(1e-5));
    REQUIRE(from_t2.root->test == 1);
    // t2 passes: t4; that passes: s0, fails: t1. t2 fails: t3; that fails: s5, passes: t1 (T13, COMPUTED).
    const SequencingNode& pass = behind(*from_t2.root, 0);
    REQUIRE(pass.test == 3);
    CHECK_FALSE(behind(pass, 0).test);
    CHECK(behind(pass, 0).group == 0);
    CHECK(behind(pass, 1).test == 0);
    const SequencingNode& fail = behind(*from_t2.root, 1);
    REQUIRE(fail.test == 2);
    CHECK(behind(fail, 1).group == 5);
    CHECK(behind(fail, 0).test == 0);
}

TEST_CASE("T14 (COMPUTED): first bits of the example, and what always taking the most bits costs") {
    const SequencingProblem problem = sequencing_example();
    const std::array<double, 5> bits{0.841465, 0.680077, 0.584239, 0.795040, 0.499916};
    for (std::size_t t = 0; t < bits.size(); ++t) CHECK(first_bits(problem, t) == Approx(bits[t]).margin(1e-5));
    CHECK(entropy(problem.weights) == Approx(1.454873).margin(1e-5));
    CHECK(plan_greedily(problem, Greed::bits).root->expected == Approx(2.86).epsilon(1e-9));
    CHECK(plan_greedily(problem, Greed::per_minute).root->expected == Approx(2.86).epsilon(1e-9));
}

TEST_CASE("T15 (Balakrishnan and Semmelbauer 1999, tables 1 and 2), T16 (COMPUTED): five defects, four tests") {
    const std::vector<std::vector<int>> rows{{0, 0, 0, 0}, {0, 0, 0, 1}, {0, 0, 1, 1}, {0, 1, 1, 1}, {1, 1, 1, 1}};
    CHECK(plan_sequence(sure_tests(std::vector<double>(5, 0.2), rows, {1, 1, 1, 1})).root->expected ==
          Approx(2.4).epsilon(1e-9));
    const SequencingPlan known = plan_sequence(sure_tests({.1, .1, .6, .1, .1}, rows, {1, 1, 1, 1}));
    CHECK(known.root->expected == Approx(2.2).epsilon(1e-9));
    // Starting with test 2, defect 3 is found with two tests: 2 passes, 3 fails.
    const SequencingProblem problem = sure_tests({.1, .1, .6, .1, .1}, rows, {1, 1, 1, 1});
    REQUIRE(known.root->test == 1);
    CHECK(behind(behind(*known.root, 0), 1).group == 2);
}

TEST_CASE("T17 (Kalagnanam and Henrion, READ), T18, T19 (COMPUTED): the rule of cost over probability and its limit") {
    // T18: the last one is tested too. A fourth state that hardly ever is stands for "none of the three".
    const double never = 1e-6;
    const SequencingPlan all = plan_sequence(component_tests({.5, .3, .2, never}, {10, 2, 5}));
    CHECK(all.root->expected == Approx(10.0).epsilon(1e-4));
    REQUIRE(all.root->test == 1);           // b: 2 / .3
    CHECK(behind(*all.root, 0).test == 0);  // then a: 10 / .5
    // T19: the last one is inferred: b, c, a costs 5.5; the rule's order b, a, c would cost 9.0.
    const SequencingPlan inferred = plan_sequence(component_tests({.5, .3, .2}, {10, 2, 5}));
    CHECK(inferred.root->expected == Approx(5.5).epsilon(1e-9));
    REQUIRE(inferred.root->test == 1);
    CHECK(behind(*inferred.root, 0).test == 2);
    CHECK(2 + 0.7 * 10 == Approx(9.0));
}

TEST_CASE("T20 (COMPUTED): observing four components, each looked at until the faulty one is seen") {
    const double never = 1e-6;
    const SequencingPlan plan = plan_sequence(component_tests({.4, .3, .2, .1, never}, {8, 3, 1, 4}));
    CHECK(plan.root->expected == Approx(7.8).epsilon(1e-4));
    // With the repair of the one that is found: 44.8.
    CHECK(plan.root->expected + .4 * 50 + .3 * 20 + .2 * 15 + .1 * 80 == Approx(44.8).epsilon(1e-4));
}

TEST_CASE("T21 (COMPUTED): one bad segment among equal ones is halved, not walked") {
    const std::array<std::pair<std::size_t, double>, 3> counts{{{4, 2.0}, {5, 2.4}, {8, 3.0}}};
    for (const auto& [n, expected] : counts) {
        std::vector<std::vector<int>> rows;
        for (std::size_t c = 0; c < n; ++c) {
            rows.emplace_back();
            for (std::size_t t = 0; t + 1 < n; ++t) rows.back().push_back(c <= t ? 1 : 0);
        }
        const std::vector<double> equal(n, 1.0 / static_cast<double>(n));
        const SequencingPlan plan = plan_sequence(sure_tests(equal, rows, std::vector<double>(n - 1, 1.0)));
        INFO(n);
        CHECK(plan.root->expected == Approx(expected).epsilon(1e-9));
        CHECK(plan_greedily(sure_tests(equal, rows, std::vector<double>(n - 1, 1.0)), Greed::bits).root->expected ==
              Approx(expected).epsilon(1e-9));
    }
}

TEST_CASE("T07, T08, T09 (COMPUTED): where a chain of inverters is probed first") {
    // p = 0.01 a gate; a faulty gate's output is right or wrong by chance (m = 2), so a wrong value at node k is seen
    // with one half where the fault lies before it. Faults of any number are possible.
    const auto gains = [](std::size_t n, bool output_wrong) {
        std::vector<Possibility> possibilities;
        std::vector<std::vector<double>> wrong_at(n);  // by node, by possibility
        const double p = 0.01;
        std::vector<double> weights;
        // What the nodes show: the value is wrong at node i with 1/2 behind a faulty gate, else as before it.
        for (std::size_t set = 0; set < (std::size_t{1} << n); ++set) {
            double prior = 1;
            std::vector<double> wrong(n);
            double before = 0;
            for (std::size_t g = 0; g < n; ++g) {
                const bool faulty = (set >> g & 1) != 0;
                prior *= faulty ? p : 1 - p;
                before = faulty ? 0.5 : before;
                wrong[g] = before;
            }
            std::size_t last = n;
            for (std::size_t g = 0; g < n; ++g) last = (set >> g & 1) != 0 ? g : last;
            double weight = prior;
            if (output_wrong) weight *= wrong[n - 1];
            if (weight <= 0) continue;
            if (output_wrong && last < n) {
                // Behind the last faulty gate the value is known to be wrong.
                for (std::size_t g = last; g < n; ++g) wrong[g] = 1;
            }
            weights.push_back(weight);
            possibilities.push_back({weight, possibilities.size(), 0, 0});
            for (std::size_t g = 0; g < n; ++g) wrong_at[g].push_back(wrong[g]);
        }
        std::vector<double> list;
        for (std::size_t node = 0; node < n; ++node) {
            std::vector<double> outcomes;
            for (const double wrong : wrong_at[node]) {
                outcomes.push_back(wrong);
                outcomes.push_back(1 - wrong);
            }
            list.push_back(information_of_words(possibilities, possibilities.size(), outcomes, 2));
        }
        return std::pair{entropy(weights), list};
    };
    const auto [h7, t07] = gains(4, false);
    CHECK(h7 == Approx(0.323173).margin(1e-5));
    const std::array<double, 4> expected7{0.035415, 0.060561, 0.081756, 0.100360};
    for (std::size_t i = 0; i < 4; ++i) CHECK(t07[i] == Approx(expected7[i]).margin(1e-5));
    const auto [h8, t08] = gains(4, true);
    CHECK(h8 == Approx(2.122114).margin(1e-5));
    const std::array<double, 3> expected8{0.803761, 0.989950, 0.803761};
    for (std::size_t i = 0; i < 3; ++i) CHECK(t08[i] == Approx(expected8[i]).margin(1e-5));
    const auto [h9, t09] = gains(8, true);
    const std::array<double, 7> expected9{0.534895, 0.796284, 0.935615, 0.979902, 0.935615, 0.796284, 0.534895};
    for (std::size_t i = 0; i < 7; ++i) CHECK(t09[i] == Approx(expected9[i]).margin(1e-5));
}

TEST_CASE("the rule of next never costs less than the best order of the same tests") {
    // Pairs of tests that tell only together, tests that share strip-down, and a price for being wrong.
    SequencingProblem problem = sequencing_example();
    problem.wrong_minutes = 240;
    const SequencingPlan best = plan_sequence(problem);
    REQUIRE(best.exact);
    const SequencingPlan rule = plan_by_rule(problem, 30);
    CHECK(rule.cost >= best.cost - 1e-9);
    CHECK(rule.cost < 1.5 * best.cost);
    // Of one test that settles all there is one order: the test, and no price behind it.
    const SequencingProblem one = sure_tests({0.5, 0.5}, {{1}, {0}}, {3});
    SequencingProblem priced = one;
    priced.wrong_minutes = 240;
    CHECK(plan_by_rule(priced, 30).cost == Approx(3));
    // It ends where the test costs more than half of the price.
    priced.wrong_minutes = 5;
    CHECK(plan_by_rule(priced, 30).cost == Approx(2.5));
}

TEST_CASE("a way looked at two tests ahead costs no less than the best and no more than the rule's") {
    SequencingProblem problem = sequencing_example();
    problem.wrong_minutes = 240;
    const double best = plan_sequence(problem).cost;
    problem.exact_up_to = 0;
    problem.steps_ahead = 2;
    const SequencingPlan ahead = plan_sequence(problem);
    CHECK_FALSE(ahead.exact);
    CHECK(ahead.cost >= best - 1e-9);
    CHECK(ahead.cost <= plan_by_rule(problem, 30).cost + 1e-9);
    // Two tests of which neither tells anything alone, as the sum of two bits: only looking ahead takes the first.
    SequencingProblem both = sure_tests({.25, .25, .25, .25}, {{0, 0}, {0, 1}, {1, 0}, {1, 1}}, {1, 1});
    both.groups = {0, 1, 1, 0};
    both.wrong_minutes = 240;
    both.least_bits = 0;
    both.exact_up_to = 0;
    both.steps_ahead = 2;
    CHECK(plan_sequence(both).cost == Approx(2));
    CHECK_FALSE(plan_by_rule(both, 30).root->test);
}
