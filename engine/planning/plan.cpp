#include "engine/planning/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "engine/planning/cautions.hpp"
#include "engine/planning/outcomes.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/plan_problem.hpp"
#include "engine/planning/position_sweeps.hpp"
#include "engine/planning/sequencing.hpp"
#include "engine/planning/test_minutes.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/digits.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Tests that the plan chooses from: the best now, and the best at parting two of the leading repairs.
constexpr std::size_t most_listed_tests = 40;
constexpr std::size_t groups_paired = 6;
constexpr std::size_t exact_tests = 12;
/// Tests and leading repairs whose readings the simulator of record confirms.
constexpr std::size_t most_confirmed_steps = 6;
constexpr std::size_t leaders_confirmed = 4;
/// A way through the tree that is rarer than this ends where it stands; a step must tell this many bits.
constexpr double rarest_way = 0.02;
constexpr double worth_a_step = 0.03;
/// Groups below this share are not planned for.
constexpr double planned_for = 0.003;

class TreePlanner {
public:
    TreePlanner(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                std::shared_ptr<const Weighed> weighed)
        : outlook_(simulator, circuit, job, options, std::move(weighed)) {}

    SequencingProblem problem(std::size_t most_tests) {
        most_listed_ = most_tests;
        drop_rare_groups();
        choose_tests();
        if (chosen_.size() > most_tests) {
            chosen_.resize(most_tests);
            outcomes_.resize(most_tests);
        }
        return problem_of();
    }

    PlanAnswer run() {
        PlanAnswer answer;
        answer.notes = outlook_.weighed->questions.notes;
        for (const std::string& note : outlook_.dangers.notes()) answer.notes.push_back(note);
        answer.notes.push_back(makers_procedure);
        sweep_ = leading_sweep(outlook_);
        drop_rare_groups();
        choose_tests();
        if (standings().list.empty()) {
            answer.tree = std::make_unique<PlanNode>();
            answer.notes.insert(answer.notes.begin(), "no suspect fits these readings: see match");
            return answer;
        }
        const SequencingProblem problem = problem_of();
        const SequencingPlan plan = plan_sequence(problem);
        answer.exact = plan.exact;
        answer.right = right_share(*plan.root);
        answer.tree = node_of(*plan.root);
        confirm_shown(*plan.root);
        answer.expected_minutes = nine_digits(plan.root->expected);
        answer.worst_minutes = nine_digits(plan.root->worst);
        put_supply_first(*plan.root, answer);
        return answer;
    }

private:
    const Standings& standings() const { return outlook_.standings; }

    /// Repairs that are hardly possible would only make the tree bushy.
    void drop_rare_groups() {
        Standings& all = outlook_.standings;
        double sum = 0;
        for (const RepairGroup& group : all.groups) sum += group.probability;
        std::erase_if(all.list, [&](const Standing& standing) {
            return all.groups[standing.group].probability < planned_for * sum;
        });
    }

    /// The cheapest state of every step that tells something, and those that part two leading repairs.
    void choose_tests() {
        add_sweep();
        std::map<std::size_t, std::pair<double, std::size_t>> best;
        const auto consider = [&](std::size_t index, double worth) {
            // Equal but for the last digits of the solver: the first in the circuit's order.
            const double merit = significant(worth, 6);
            const auto [entry, added] = best.try_emplace(outlook_.future.tests[index].step, merit, index);
            if (!added && merit > entry->second.first) entry->second = {merit, index};
        };
        std::vector<double> minutes;
        for (std::size_t i = 0; i < outlook_.future.tests.size(); ++i) {
            const TestCandidate& test = outlook_.future.tests[i];
            minutes.push_back(std::max(minutes_of(outlook_.circuit, test, outlook_.reached).minutes, 0.5));
            if (in_sweep(i) || (test.reads_supply && outlook_.is_supply_unknown(test))) continue;
            const double bits = outlook_.bits(test, SupplyKnown::yes);
            if (bits >= least_bits) consider(i, bits / minutes.back());
        }
        std::vector<std::pair<double, std::size_t>> ranked;
        for (const auto& [step, one] : best) ranked.push_back(one);
        std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
        if (ranked.size() > most_listed_) ranked.resize(most_listed_);
        for (const auto& [merit, index] : ranked) add(index);
        add_pair_tests(minutes);
    }

    /// The switch turned through its positions, where `next` begins with that: the tree does, too.
    void add_sweep() {
        if (!sweep_) return;
        Outcomes outcomes = sweep_outcomes(outlook_, *sweep_, least_shown);
        if (outcomes.count() < 2) return sweep_.reset();
        chosen_.push_back(sweep_->tests.front());
        outcomes_.push_back(std::move(outcomes));
    }

    /// Is the look one of the sweep's, which are taken together?
    bool in_sweep(std::size_t index) const {
        return sweep_ && std::find(sweep_->tests.begin(), sweep_->tests.end(), index) != sweep_->tests.end();
    }

    void add(std::size_t index) {
        if (std::find(chosen_.begin(), chosen_.end(), index) != chosen_.end()) return;
        const TestCandidate& test = outlook_.future.tests[index];
        Outcomes outcomes =
            outcomes_of(outlook_.circuit, outlook_.job, *outlook_.weighed, test, standings(), SupplyKnown::yes);
        if (outcomes.count() < 2) return;
        // Another test that says the same for no more minutes is enough.
        for (std::size_t i = 0; i < chosen_.size(); ++i) {
            if (outcomes_[i].likelihood.size() != outcomes.likelihood.size()) continue;
            double differ = 0;
            for (std::size_t k = 0; k < outcomes.likelihood.size(); ++k)
                differ = std::max(differ, std::abs(outcomes.likelihood[k] - outcomes_[i].likelihood[k]));
            constexpr double same = 0.01;
            if (differ < same) return;
        }
        chosen_.push_back(index);
        outcomes_.push_back(std::move(outcomes));
    }

    /// For two leading repairs the test that parts them best a minute.
    void add_pair_tests(const std::vector<double>& minutes) {
        std::vector<std::size_t> order(standings().groups.size());
        for (std::size_t g = 0; g < order.size(); ++g) order[g] = g;
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return standings().groups[a].probability > standings().groups[b].probability;
        });
        if (order.size() > groups_paired) order.resize(groups_paired);
        for (std::size_t a = 0; a < order.size(); ++a) {
            for (std::size_t b = 0; b < a; ++b) {
                Standings pair;
                pair.groups.resize(2);
                for (const Standing& standing : standings().list) {
                    if (standing.group != order[a] && standing.group != order[b]) continue;
                    pair.list.push_back(standing);
                    pair.list.back().group = standing.group == order[a] ? 0 : 1;
                }
                if (const auto index = best_for(pair, minutes)) add(*index);
            }
        }
    }

    std::optional<std::size_t> best_for(const Standings& pair, const std::vector<double>& minutes) const {
        std::optional<std::size_t> best;
        double most = 0;
        for (std::size_t i = 0; i < outlook_.future.tests.size(); ++i) {
            const TestCandidate& test = outlook_.future.tests[i];
            if (in_sweep(i) || (test.reads_supply && outlook_.is_supply_unknown(test))) continue;
            const double bits =
                bits_of(outlook_.circuit, outlook_.job, *outlook_.weighed, test, pair, SupplyKnown::yes);
            if (bits < least_bits || bits / minutes[i] <= most) continue;
            most = bits / minutes[i];
            best = i;
        }
        return best;
    }

    SequencingProblem problem_of() {
        SequencingProblem problem = voltfall::problem_of(outlook_, chosen_, outcomes_);
        problem.rarest = rarest_way;
        problem.least_bits = worth_a_step;
        problem.exact_up_to = exact_tests;
        if (sweep_) problem.first = 0;
        return problem;
    }

    std::unique_ptr<PlanNode> node_of(const SequencingNode& node) const {
        auto shown = std::make_unique<PlanNode>();
        shown->minutes = nine_digits(node.minutes);
        shown->expected = nine_digits(node.expected);
        if (!node.test) {
            const RepairGroup& group = standings().groups[node.group];
            shown->fault = outlook_.suspect(group.suspects.front()).phrase();
            shown->repair = outlook_.repair_of(group);
            shown->probability = nine_digits(node.probability);
            return shown;
        }
        const TestCandidate& test = outlook_.future.tests[chosen_[*node.test]];
        const bool turned = sweep_ && *node.test == 0;
        shown->test = turned ? sweep_->test : test.test;
        shown->caution = turned ? sweep_cautions(outlook_, *sweep_) : outlook_.cautions(test);
        for (const SequencingNode::Branch& branch : node.branches) {
            if (!is_shown(node, branch)) continue;
            const Outcomes& outcomes = outcomes_[*node.test];
            PlanNode::Branch& added = shown->branches.emplace_back();
            added.outcome = outcomes.labels[branch.outcome];
            added.probability = nine_digits(branch.probability);
            added.then = node_of(*branch.then);
            if (branch.outcome > 0 && !outcomes.cuts.empty()) added.from = outcomes.cuts[branch.outcome - 1];
            if (branch.outcome < outcomes.cuts.size()) added.to = outcomes.cuts[branch.outcome];
        }
        return shown;
    }

    /// The first tests of the tree and the leading repairs that they part.
    void confirm_shown(const SequencingNode& root) const {
        std::vector<std::size_t> tests;
        const auto collect = [&](const auto& self, const SequencingNode& node) -> void {
            if (!node.test || tests.size() >= most_confirmed_steps) return;
            tests.push_back(chosen_[*node.test]);
            for (const SequencingNode::Branch& branch : node.branches) self(self, *branch.then);
        };
        collect(collect, root);
        std::vector<std::size_t> leaders;
        for (const RepairGroup& group : standings().groups) {
            if (leaders.size() < leaders_confirmed) leaders.push_back(group.suspects.front());
        }
        outlook_.confirm(tests, leaders);
    }

    static double right_share(const SequencingNode& node) {
        if (!node.test) return node.probability;
        double sum = 0;
        for (const SequencingNode::Branch& branch : node.branches)
            sum += branch.probability * right_share(*branch.then);
        return sum;
    }

    /// The first test of the way that is judged against a supply that nothing has told.
    const TestCandidate* needs_supply(const SequencingNode& node) const {
        if (!node.test) return nullptr;
        const TestCandidate& test = outlook_.future.tests[chosen_[*node.test]];
        if (test.is_number() && outlook_.is_supply_unknown(test)) return &test;
        for (const SequencingNode::Branch& branch : node.branches) {
            if (const TestCandidate* found = needs_supply(*branch.then)) return found;
        }
        return nullptr;
    }

    /// The supply's volts, where the tests of the way gain by knowing them and nothing has told them.
    const TestCandidate* supply_before(const SequencingNode& way) const {
        const TestCandidate* needs = needs_supply(way);
        if (!needs) return nullptr;
        const double without = outlook_.bits(*needs);
        const double gain = outlook_.bits(*needs, SupplyKnown::yes) - without;
        const double minutes = minutes_of(outlook_.circuit, *needs, outlook_.reached).minutes;
        for (const TestCandidate& test : outlook_.future.tests) {
            if (!test.reads_supply || test.state != needs->state) continue;
            // A test that tells more a minute than it gains by known volts does not wait for them.
            const double own = minutes_of(outlook_.circuit, test, outlook_.reached).minutes;
            return gain * minutes < without * own ? nullptr : &test;
        }
        return nullptr;
    }

    /// Puts that reading before the tree; the minutes that it takes.
    double put_before(std::unique_ptr<PlanNode>& tree, const TestCandidate& test) const {
        auto first = std::make_unique<PlanNode>();
        first->test = test.test;
        first->minutes = minutes_of(outlook_.circuit, test, outlook_.reached).minutes;
        first->caution = outlook_.cautions(test);
        first->expected = first->minutes + tree->expected;
        first->branches.push_back({"any reading", 1, std::move(tree), std::nullopt, std::nullopt});
        tree = std::move(first);
        return tree->minutes;
    }

    /// The supply comes first, but behind the switch turned through its positions, which asks for no volts.
    void put_supply_first(const SequencingNode& root, PlanAnswer& answer) const {
        double expected = 0;
        double worst = 0;
        if (sweep_) {
            std::size_t shown = 0;
            for (const SequencingNode::Branch& branch : root.branches) {
                if (!is_shown(root, branch)) continue;
                std::unique_ptr<PlanNode>& then = answer.tree->branches[shown++].then;
                const TestCandidate* supply = supply_before(*branch.then);
                if (!supply) continue;
                const double minutes = put_before(then, *supply);
                expected += branch.probability * minutes;
                worst = std::max(worst, minutes);
            }
            answer.tree->expected = nine_digits(answer.tree->expected + expected);
        } else if (const TestCandidate* supply = supply_before(root)) {
            expected = worst = put_before(answer.tree, *supply);
        }
        if (worst == 0) return;
        answer.expected_minutes = nine_digits(answer.expected_minutes + expected);
        answer.worst_minutes = nine_digits(answer.worst_minutes + worst);
        answer.notes.push_back("the supply is unknown: its volts come first, all other readings are judged by them");
    }

    /// Does the tree follow the outcome?
    bool is_shown(const SequencingNode& node, const SequencingNode::Branch& branch) const {
        if (branch.probability < least_shown) return false;
        // Who meets a pattern of positions that is not named enters it and asks again.
        const bool turned = sweep_ && node.test == 0;
        return !turned || outcomes_[*node.test].labels[branch.outcome] != other_patterns;
    }

    Outlook outlook_;
    std::size_t most_listed_{most_listed_tests};
    std::optional<PositionSweep> sweep_;  ///< the first of the chosen, where the tree begins with it
    std::vector<std::size_t> chosen_;     ///< indices of the future's tests
    std::vector<Outcomes> outcomes_;      ///< of the chosen tests
};

}  // namespace

SequencingProblem sequencing_problem(Simulator& simulator, const Circuit& circuit, const Job& job,
                                     const MatchOptions& options, std::size_t most_tests) {
    return TreePlanner(simulator, circuit, job, options, weigh(simulator, circuit, job, options)).problem(most_tests);
}

PlanAnswer plan_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options) {
    return plan_tests(simulator, circuit, job, options, weigh(simulator, circuit, job, options));
}

PlanAnswer plan_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                      std::shared_ptr<const Weighed> weighed) {
    return TreePlanner(simulator, circuit, job, options, std::move(weighed)).run();
}

}  // namespace voltfall
