#include "engine/planning/sequencing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>

#include "engine/planning/ending.hpp"

namespace voltfall {

namespace {

/// Tests looked at by step of the plan when not all are; behind these the best one is taken.
constexpr std::size_t width_by_depth[] = {8, 4, 3, 2};
/// Beliefs weighed before an exact plan is given up.
constexpr std::size_t most_beliefs = 150'000;
/// Beliefs weighed before looking ahead gives way to the best next test.
constexpr std::size_t most_looked_at = 20'000;
/// A case below this share of the rest is gone; an outcome below it does not happen.
constexpr double gone = 1e-9;
/// One group is all there is.
constexpr double certain = 1 - 1e-9;
/// The worst way is the longest of those at least this probable at every step.
constexpr double counts_as_worst = 0.01;
/// Even a glance costs this much in the ranking, minutes.
constexpr double least_step_minutes = 0.5;

using Weights = std::vector<double>;      ///< by case, sums to 1
using Seen = std::vector<std::uint32_t>;  ///< test and outcome, sorted

double plus_log(double p) {
    return p > 0 ? p * std::log2(p) : 0;
}

class Planner {
public:
    enum class Manner { exact, look_ahead, greedy_bits, greedy_per_minute, rule };

    Planner(const SequencingProblem& problem, Manner manner, double minutes_a_bit = 0)
        : problem_(problem), manner_(manner), minutes_a_bit_(minutes_a_bit) {
        for (const std::size_t group : problem.groups) groups_ = std::max(groups_, group + 1);
    }

    /// False when an exact plan would take too long.
    bool run() {
        Weights belief = problem_.weights;
        double sum = 0;
        for (const double weight : belief) sum += weight;
        for (double& weight : belief) weight /= sum;
        const double cost = value(belief, {}, 0, 1);
        if (given_up_) return false;
        plan_.root = build(belief, {}, 0, 1);
        plan_.exact = manner_ == Manner::exact;
        plan_.cost = cost;
        return true;
    }
    SequencingPlan take() { return std::move(plan_); }

    double bits(const Weights& belief, std::size_t index) const {
        const SequencingTest& test = problem_.tests[index];
        std::vector<double> joint(groups_ * test.outcomes, 0.0);
        for (std::size_t c = 0; c < belief.size(); ++c) {
            if (belief[c] <= 0) continue;
            for (std::size_t o = 0; o < test.outcomes; ++o)
                joint[problem_.groups[c] * test.outcomes + o] += belief[c] * test.likelihood[c * test.outcomes + o];
        }
        double information = 0;
        std::vector<double> of_outcome(test.outcomes, 0.0);
        for (std::size_t g = 0; g < groups_; ++g) {
            double of_group = 0;
            for (std::size_t o = 0; o < test.outcomes; ++o) {
                const double p = joint[g * test.outcomes + o];
                of_group += p;
                of_outcome[o] += p;
                information += plus_log(p);
            }
            information -= plus_log(of_group);
        }
        for (const double p : of_outcome) information -= plus_log(p);
        return std::max(information, 0.0);
    }

private:
    struct Option {
        std::size_t test{};
        double bits{};
        double minutes{};
    };

    bool used(const Seen& seen, std::size_t test) const {
        return std::any_of(seen.begin(), seen.end(), [&](std::uint32_t item) { return item / 64 == test; });
    }

    double minutes_of(const Seen& seen, std::size_t index) const {
        const SequencingTest& test = problem_.tests[index];
        double minutes = test.minutes;
        for (const std::size_t opening : test.openings) {
            if (!is_open(seen, opening)) minutes += problem_.opening_minutes[opening];
        }
        return minutes;
    }

    bool is_open(const Seen& seen, std::size_t opening) const {
        return std::any_of(seen.begin(), seen.end(), [&](std::uint32_t item) {
            const auto& done = problem_.tests[item / 64].openings;
            return std::find(done.begin(), done.end(), opening) != done.end();
        });
    }

    std::vector<Option> options(const Weights& belief, const Seen& seen, std::size_t depth) const {
        std::vector<Option> list;
        for (std::size_t i = 0; i < problem_.tests.size(); ++i) {
            if (used(seen, i)) continue;
            const double told = bits(belief, i);
            if (told >= problem_.least_bits) list.push_back({i, told, minutes_of(seen, i)});
        }
        const bool by_bits = manner_ == Manner::greedy_bits;
        std::stable_sort(list.begin(), list.end(), [&](const Option& a, const Option& b) {
            const auto merit = [&](const Option& option) {
                return by_bits ? option.bits : option.bits / std::max(option.minutes, least_step_minutes);
            };
            return merit(a) > merit(b) + 1e-12;
        });
        std::size_t width = 1;
        if (manner_ == Manner::exact) width = list.size();
        const bool ahead = manner_ == Manner::look_ahead && memory_.size() < most_looked_at;
        if (ahead && depth < std::min(problem_.steps_ahead, std::size(width_by_depth))) width = width_by_depth[depth];
        if (list.size() > width) list.resize(width);
        return list;
    }

    /// The likeliest group and its probability.
    std::pair<std::size_t, double> leader(const Weights& belief) const {
        std::vector<double> of_group(groups_, 0.0);
        for (std::size_t c = 0; c < belief.size(); ++c) of_group[problem_.groups[c]] += belief[c];
        const auto best = std::max_element(of_group.begin(), of_group.end());
        return {static_cast<std::size_t>(best - of_group.begin()), *best};
    }

    /// Price of ending here; nothing where testing must go on while any test tells something.
    std::optional<double> ending(double probability) const {
        if (probability >= certain) return 0.0;
        if (std::isinf(problem_.wrong_minutes)) return std::nullopt;
        return (1 - probability) * problem_.wrong_minutes;
    }

    struct Outcome {
        std::size_t outcome{};
        double probability{};
        Weights belief;
        Seen seen;
    };
    std::vector<Outcome> outcomes_of(const Weights& belief, const Seen& seen, std::size_t index) const {
        const SequencingTest& test = problem_.tests[index];
        std::vector<Outcome> list;
        for (std::size_t o = 0; o < test.outcomes; ++o) {
            Outcome outcome{o, 0, Weights(belief.size(), 0.0), seen};
            for (std::size_t c = 0; c < belief.size(); ++c) {
                outcome.belief[c] = belief[c] * test.likelihood[c * test.outcomes + o];
                outcome.probability += outcome.belief[c];
            }
            if (outcome.probability < gone) continue;
            for (double& weight : outcome.belief) {
                weight /= outcome.probability;
                if (weight < gone) weight = 0;
            }
            const auto item = static_cast<std::uint32_t>(index * 64 + o);
            outcome.seen.insert(std::lower_bound(outcome.seen.begin(), outcome.seen.end(), item), item);
            list.push_back(std::move(outcome));
        }
        return list;
    }

    struct Choice {
        double cost{};
        std::optional<std::size_t> test;
    };

    /// The test that is given as the first, and what the way behind it costs.
    Choice begin_with(std::size_t test, const Weights& belief, double way) {
        Choice choice{minutes_of({}, test), test};
        for (const Outcome& outcome : outcomes_of(belief, {}, test))
            choice.cost += outcome.probability * value(outcome.belief, outcome.seen, 1, way * outcome.probability);
        return choice;
    }

    /// What the rule takes next; nothing where it ends.
    std::optional<std::size_t> by_rule(const Weights& belief, const Seen& seen) const {
        std::vector<double> shares(groups_, 0.0);
        for (std::size_t c = 0; c < belief.size(); ++c) shares[problem_.groups[c]] += belief[c];
        std::vector<std::size_t> tests;
        std::vector<TestOffer> offers;
        for (std::size_t i = 0; i < problem_.tests.size(); ++i) {
            if (used(seen, i)) continue;
            const double told = bits(belief, i);
            if (told < problem_.least_bits) continue;
            tests.push_back(i);
            offers.push_back({told, minutes_of(seen, i), problem_.tests[i].minutes, {}});
            for (const std::size_t opening : problem_.tests[i].openings) {
                if (!is_open(seen, opening)) offers.back().openings.push_back(opening);
            }
        }
        const std::vector<bool> worth = worth_their_minutes(shares, offers, problem_.wrong_minutes);
        std::optional<std::size_t> best;
        for (std::size_t i = 0; i < offers.size(); ++i) {
            const auto saved = [&](std::size_t k) { return offers[k].bits * minutes_a_bit_ - offers[k].minutes; };
            if (worth[i] && (!best || saved(i) > saved(*best) + 1e-12)) best = i;
        }
        return best ? std::optional(tests[*best]) : std::nullopt;
    }

    Choice follow_rule(const Weights& belief, const Seen& seen, std::size_t depth, double way) {
        const double most = leader(belief).second;
        Choice choice{ending(most).value_or(0), std::nullopt};
        if (most >= problem_.sure || way < problem_.rarest) return choice;
        choice.test = by_rule(belief, seen);
        if (!choice.test) return choice;
        choice.cost = minutes_of(seen, *choice.test);
        for (const Outcome& outcome : outcomes_of(belief, seen, *choice.test))
            choice.cost +=
                outcome.probability * value(outcome.belief, outcome.seen, depth + 1, way * outcome.probability);
        return choice;
    }

    Choice choose(const Weights& belief, const Seen& seen, std::size_t depth, double way) {
        if (manner_ == Manner::rule) return follow_rule(belief, seen, depth, way);
        if (seen.empty() && problem_.first) return begin_with(*problem_.first, belief, way);
        const double most = leader(belief).second;
        const std::optional<double> end = ending(most);
        Choice best{end.value_or(std::numeric_limits<double>::infinity()), std::nullopt};
        if (best.cost <= 0 || (end && (most >= problem_.sure || way < problem_.rarest))) return best;
        const std::vector<Option> list = options(belief, seen, depth);
        for (const Option& option : list) {
            if (option.minutes >= best.cost) continue;
            double cost = option.minutes;
            for (const Outcome& outcome : outcomes_of(belief, seen, option.test)) {
                cost += outcome.probability * value(outcome.belief, outcome.seen, depth + 1, way * outcome.probability);
                if (cost >= best.cost || given_up_) break;
            }
            if (given_up_) return best;
            if (cost < best.cost - 1e-12) best = {cost, option.test};
        }
        // Nothing tells more: the end, whatever it costs.
        if (std::isinf(best.cost)) best.cost = 0;
        return best;
    }

    double value(const Weights& belief, const Seen& seen, std::size_t depth, double way) {
        const auto known = memory_.find(seen);
        if (known != memory_.end()) return known->second.cost;
        if (manner_ == Manner::exact && memory_.size() >= most_beliefs) given_up_ = true;
        if (given_up_) return 0;
        const Choice choice = choose(belief, seen, depth, way);
        if (!given_up_) memory_.emplace(seen, choice);
        return choice.cost;
    }

    std::unique_ptr<SequencingNode> build(const Weights& belief, const Seen& seen, std::size_t depth, double way) {
        auto node = std::make_unique<SequencingNode>();
        std::tie(node->group, node->probability) = leader(belief);
        value(belief, seen, depth, way);
        node->test = memory_.at(seen).test;
        if (!node->test) return node;
        node->minutes = minutes_of(seen, *node->test);
        node->expected = node->worst = node->minutes;
        double worst = 0;
        for (Outcome& outcome : outcomes_of(belief, seen, *node->test)) {
            auto then = build(outcome.belief, outcome.seen, depth + 1, way * outcome.probability);
            node->expected += outcome.probability * then->expected;
            if (outcome.probability >= counts_as_worst) worst = std::max(worst, then->worst);
            node->branches.push_back({outcome.outcome, outcome.probability, std::move(then)});
        }
        node->worst += worst;
        return node;
    }

    const SequencingProblem& problem_;
    Manner manner_;
    double minutes_a_bit_;
    std::size_t groups_{0};
    std::map<Seen, Choice> memory_;
    bool given_up_{false};
    SequencingPlan plan_;
};

}  // namespace

SequencingPlan plan_sequence(const SequencingProblem& problem) {
    if (problem.tests.size() <= problem.exact_up_to) {
        Planner exact(problem, Planner::Manner::exact);
        if (exact.run()) return exact.take();
    }
    Planner bounded(problem, Planner::Manner::look_ahead);
    bounded.run();
    return bounded.take();
}

SequencingPlan plan_greedily(const SequencingProblem& problem, Greed greed) {
    Planner planner(problem, greed == Greed::bits ? Planner::Manner::greedy_bits : Planner::Manner::greedy_per_minute);
    planner.run();
    return planner.take();
}

SequencingPlan plan_by_rule(const SequencingProblem& problem, double minutes_a_bit) {
    Planner planner(problem, Planner::Manner::rule, minutes_a_bit);
    planner.run();
    return planner.take();
}

double first_bits(const SequencingProblem& problem, std::size_t test) {
    Weights belief = problem.weights;
    double sum = 0;
    for (const double weight : belief) sum += weight;
    for (double& weight : belief) weight /= sum;
    return Planner(problem, Planner::Manner::exact).bits(belief, test);
}

}  // namespace voltfall
