#include "cli/views/plan_steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "cli/views/figures.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

/// A way that fewer vehicles than this take is not told: the reading is entered and the plan asked again.
constexpr double least_way = 0.02;
/// Outcomes that the tree does not follow, and that are this likely together, are told of.
constexpr double unnamed = 0.1;
/// An end below this is no end.
constexpr double settled_at = 0.5;

struct Reached {
    const PlanNode* node{};
    double probability{};
};

/// Steps with the share of vehicles that come to them, level by level.
std::vector<Reached> steps_reached(const PlanAnswer& answer) {
    std::vector<Reached> reached;
    if (!answer.tree || !answer.tree->test) return reached;
    reached.push_back({answer.tree.get(), 1});
    for (std::size_t at = 0; at < reached.size(); ++at) {
        const Reached from = reached[at];
        for (const PlanNode::Branch& branch : from.node->branches) {
            const double probability = from.probability * branch.probability;
            if (branch.then->test && probability >= least_way) reached.push_back({branch.then.get(), probability});
        }
    }
    return reached;
}

std::string letter_of(std::size_t index) {
    constexpr std::size_t letters = 26;
    const std::string last(1, static_cast<char>('A' + index % letters));
    return index < letters ? last : letter_of(index / letters - 1) + last;
}

std::string end_words(const PlanNode& end) {
    const std::string chance = probability_words(end.probability);
    if (end.repair.empty()) return fmt::format("end: nothing found, verify the concern again ({})", chance);
    if (end.probability < settled_at)
        return fmt::format("not settled: likeliest {} ({}); enter the reading and ask again", end.repair, chance);
    return fmt::format("end: repair {} and prove it ({})", end.repair, chance);
}

/// Where an outcome leads, apart from how sure it is: outcomes that lead to the same are told together.
std::string key_of(const PlanNode& then, const std::map<const PlanNode*, std::string>& letters) {
    if (!then.test) return then.probability < settled_at && !then.repair.empty() ? "? " + then.repair : then.repair;
    return "> " + letters.at(&then);
}

void add_outcome(PlanStep& step, std::map<std::string, std::size_t>& known, const PlanNode::Branch& branch,
                 const std::map<const PlanNode*, std::string>& letters) {
    const PlanNode& then = *branch.then;
    const auto [entry, added] = known.try_emplace(key_of(then, letters), step.outcomes.size());
    if (!added) {
        PlanStep::Outcome& same = step.outcomes[entry->second];
        same.readings += " or " + branch.outcome;
        same.probability += branch.probability;
        return;
    }
    step.outcomes.push_back({branch.outcome, branch.probability,
                             then.test ? "then test " + letters.at(&then) : end_words(then), !then.test});
}

}  // namespace

std::size_t steps_worth_telling(const PlanAnswer& answer) {
    return steps_reached(answer).size();
}

std::vector<PlanStep> plan_steps(const PlanView& view, std::size_t most) {
    const std::vector<Reached> reached = steps_reached(view.answer);
    std::vector<std::size_t> by_chance(reached.size());
    for (std::size_t i = 0; i < by_chance.size(); ++i) by_chance[i] = i;
    std::stable_sort(by_chance.begin(), by_chance.end(),
                     [&](std::size_t a, std::size_t b) { return reached[a].probability > reached[b].probability; });
    by_chance.resize(std::min(most, by_chance.size()));
    std::sort(by_chance.begin(), by_chance.end());
    std::map<const PlanNode*, std::string> letters;
    for (const std::size_t i : by_chance) letters.emplace(reached[i].node, letter_of(letters.size()));
    std::vector<PlanStep> steps;
    std::set<std::string> said;
    for (const std::size_t i : by_chance) {
        const PlanNode& node = *reached[i].node;
        PlanStep& step = steps.emplace_back();
        step.letter = letters.at(&node);
        step.test = write_test(*view.circuit, *node.test);
        step.minutes = node.minutes;
        for (const std::string& caution : node.caution)
            if (said.insert(caution).second) step.cautions.push_back(caution);
        std::map<std::string, std::size_t> known;
        double named = 0;
        for (const PlanNode::Branch& branch : node.branches) named += branch.probability;
        step.folded = named < 1 - unnamed;
        for (const PlanNode::Branch& branch : node.branches) {
            const bool told = !branch.then->test ? reached[i].probability * branch.probability >= least_way
                                                 : letters.contains(branch.then.get());
            if (told)
                add_outcome(step, known, branch, letters);
            else
                step.folded = true;
        }
    }
    return steps;
}

}  // namespace voltfall
