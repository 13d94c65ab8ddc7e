#include "engine/planning/reading_effect.hpp"

#include <algorithm>

namespace voltfall {

namespace {

/// A reading is told as doubtful from this probability on that it is wrong.
constexpr double told_as_doubtful = 0.5;

/// Suspects of either answer that are compared.
constexpr std::size_t compared = 200;

double chance_in(const MatchAnswer& answer, const std::string& fault) {
    const auto found = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                    [&](const Candidate& candidate) { return candidate.fault == fault; });
    return found == answer.candidates.end() ? 0 : found->probability;
}

/// Of two faults at once, whatever their sizes are taken to be.
double chance_in(const MatchAnswer& answer, const std::array<std::string, 2>& modes) {
    const auto found = std::find_if(answer.pairs.begin(), answer.pairs.end(),
                                    [&](const FaultPair& pair) { return pair.modes == modes; });
    return found == answer.pairs.end() ? 0 : found->probability;
}

}  // namespace

ReadingEffect effect_of_reading(const MatchAnswer& before, const MatchAnswer& after) {
    ReadingEffect effect;
    for (const Candidate& candidate : after.candidates) {
        const double was = chance_in(before, candidate.fault);
        if (candidate.probability < least_chance) continue;
        effect.suspects.push_back({candidate.fault, was, candidate.probability});
        if (was < least_chance) effect.come_back.push_back(candidate.fault);
    }
    for (const FaultPair& pair : after.pairs) {
        if (pair.probability < least_chance) continue;
        effect.suspects.push_back(
            {pair.faults[0] + " and " + pair.faults[1], chance_in(before, pair.modes), pair.probability});
    }
    std::stable_sort(effect.suspects.begin(), effect.suspects.end(),
                     [](const ChangedChance& a, const ChangedChance& b) { return a.after > b.after; });
    for (const Candidate& candidate : before.candidates) {
        if (candidate.probability < least_chance) continue;
        if (chance_in(after, candidate.fault) < least_chance) effect.ruled_out.push_back(candidate.fault);
    }
    for (const Doubt& doubt : after.doubtful) {
        if (doubt.probability < told_as_doubtful) continue;
        effect.doubt = doubt.reading;
        break;
    }
    return effect;
}

ReadingAnswer answer_reading(Simulator& simulator, const Circuit& circuit, const Job& before, const Job& after,
                             const MatchOptions& options) {
    MatchOptions all = options;
    all.keep = std::max(options.keep, compared);
    const MatchAnswer was = match(simulator, circuit, before, all);
    const std::shared_ptr<const Weighed> weighed = weigh(simulator, circuit, after, all);
    const MatchAnswer now = match(simulator, circuit, after, all, *weighed);
    return {effect_of_reading(was, now), now.none_of_these, next_tests(simulator, circuit, after, options, weighed)};
}

}  // namespace voltfall
