#include "engine/lessons/belief.hpp"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/weighing.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Worth a thought, and out of the question.
constexpr double worth_a_thought = 0.03;
constexpr double out_of_question = 0.006;

}  // namespace

double Belief::in(const Section& section) const {
    if (section.nothing) return nothing;
    double sum = 0;
    for (std::size_t i = 0; i < modes.size(); ++i) sum += section.modes.at(i) ? modes[i] : 0;
    return sum;
}

Belief belief_of(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options) {
    const auto weighed = weigh(simulator, circuit, job, options);
    Belief belief;
    belief.modes.assign(circuit.modes.size(), 0);
    belief.none = weighed->none;
    for (const Suspect& suspect : weighed->suspects) {
        if (!suspect.mode) {
            belief.nothing += suspect.probability;
            continue;
        }
        for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
            if (circuit.modes[i].get() == suspect.mode) belief.modes[i] += suspect.probability;
        }
    }
    return belief;
}

std::vector<RepairShare> by_repair(const Circuit& circuit, const Belief& belief) {
    std::vector<RepairShare> shares{{"nothing", belief.nothing, true}};
    for (std::size_t i = 0; i < belief.modes.size(); ++i) {
        if (belief.modes[i] <= 0) continue;
        const std::string& repair = circuit.modes[i]->repair;
        const auto found = std::find_if(shares.begin(), shares.end(),
                                        [&](const RepairShare& share) { return same_word(share.repair, repair); });
        if (found == shares.end())
            shares.push_back({repair, belief.modes[i]});
        else
            found->probability += belief.modes[i];
    }
    std::stable_sort(shares.begin(), shares.end(),
                     [](const RepairShare& a, const RepairShare& b) { return a.probability > b.probability; });
    return shares;
}

double share_of(const std::vector<RepairShare>& shares, const std::string& repair) {
    for (const RepairShare& share : shares) {
        if (same_word(share.repair, repair)) return share.probability;
    }
    return 0;
}

double share_mended_by(const std::vector<RepairShare>& shares, const std::string& target) {
    double sum = 0;
    for (const RepairShare& share : shares) {
        if (is_cavity_of(share.repair, target) || same_word(share.repair, target)) sum += share.probability;
    }
    return sum;
}

double bits_told(const Circuit& circuit, const Belief& before, const Belief& after) {
    const std::vector<RepairShare> then = by_repair(circuit, before);
    double bits = 0;
    constexpr double least = 1e-9;
    for (const RepairShare& now : by_repair(circuit, after)) {
        if (now.probability < least) continue;
        bits += now.probability * std::log2(now.probability / std::max(share_of(then, now.repair), least));
    }
    return std::max(bits, 0.0);
}

std::vector<std::string> ruled_out_between(const Circuit& circuit, const Belief& before, const Belief& after) {
    const std::vector<RepairShare> now = by_repair(circuit, after);
    std::vector<std::string> out;
    for (const RepairShare& then : by_repair(circuit, before)) {
        if (then.probability < worth_a_thought) break;
        if (share_of(now, then.repair) >= out_of_question) continue;
        out.push_back(then.nothing ? "a sound vehicle" : then.repair);
    }
    return out;
}

}  // namespace voltfall
