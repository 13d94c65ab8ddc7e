#include "engine/planning/plan_problem.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "engine/planning/test_minutes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

SequencingProblem problem_of(const Outlook& outlook, std::span<const std::size_t> tests,
                             std::span<const Outcomes> outcomes) {
    SequencingProblem problem;
    problem.wrong_minutes = default_value("minutes_wrong_repair");
    problem.sure = sure_enough;
    for (const Standing& standing : outlook.standings.list) {
        problem.weights.push_back(standing.weight);
        problem.groups.push_back(standing.group);
    }
    std::map<std::string, std::size_t> openings;
    for (std::size_t i = 0; i < tests.size(); ++i) {
        const TestCandidate& candidate = outlook.future.tests[tests[i]];
        SequencingTest test;
        test.outcomes = outcomes[i].count();
        test.likelihood = outcomes[i].likelihood;
        double to_open = 0;
        for (const Opening& opening : openings_of(outlook.circuit, candidate, outlook.reached)) {
            const auto [entry, added] = openings.try_emplace(opening.name, openings.size());
            if (added) problem.opening_minutes.push_back(opening.minutes);
            test.openings.push_back(entry->second);
            to_open += opening.minutes;
        }
        test.minutes = minutes_of(outlook.circuit, candidate, outlook.reached).minutes - to_open;
        problem.tests.push_back(std::move(test));
    }
    return problem;
}

namespace {

/// A way that is rarer than this does not decide which test comes first.
constexpr double rarest_way = 0.02;
/// Nor do more cases than these.
constexpr std::size_t most_cases = 100;
/// Minutes that another first test than the one that stands in front must save, wrong repairs priced in.
constexpr double saves_least = 3;

/// Leaves the likeliest cases, in their order.
void keep_likeliest(SequencingProblem& problem) {
    if (problem.weights.size() <= most_cases) return;
    std::vector<double> sorted = problem.weights;
    const auto nth = sorted.begin() + static_cast<std::ptrdiff_t>(most_cases);
    std::nth_element(sorted.begin(), nth, sorted.end(), std::greater<>());
    const double least = *nth;
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < problem.weights.size(); ++i) {
        if (problem.weights[i] > least) kept.push_back(i);
    }
    const auto keep = [&](auto& list, std::size_t width) {
        std::size_t to = 0;
        for (const std::size_t from : kept) {
            for (std::size_t k = 0; k < width; ++k) list[to++] = list[from * width + k];
        }
        list.resize(to);
    };
    keep(problem.weights, 1);
    keep(problem.groups, 1);
    for (SequencingTest& test : problem.tests) keep(test.likelihood, test.outcomes);
}

}  // namespace

std::optional<std::size_t> first_of(const Outlook& outlook, std::span<const std::size_t> tests) {
    std::vector<std::size_t> telling;
    std::vector<Outcomes> outcomes;
    for (const std::size_t test : tests) {
        Outcomes of_test = outcomes_of(outlook.circuit, outlook.job, *outlook.weighed, outlook.future.tests[test],
                                       outlook.standings, SupplyKnown::no);
        if (of_test.count() < 2) continue;
        telling.push_back(test);
        outcomes.push_back(std::move(of_test));
    }
    if (telling.size() < 2) return std::nullopt;
    SequencingProblem problem = problem_of(outlook, telling, outcomes);
    keep_likeliest(problem);
    problem.least_bits = least_bits;
    problem.rarest = rarest_way;
    problem.exact_up_to = 0;
    problem.steps_ahead = 2;
    const SequencingPlan plan = plan_sequence(problem);
    if (!plan.root->test) return std::nullopt;
    problem.first = 0;
    const bool pays = plan.cost < plan_sequence(problem).cost - saves_least;
    return telling[pays ? *plan.root->test : 0];
}

}  // namespace voltfall
