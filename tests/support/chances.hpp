// What an answer gives a place, or a fault by its phrase without size; 0 where it lists none.
#pragma once

#include <algorithm>
#include <string>

#include "engine/diagnosis/match.hpp"

namespace voltfall::testing {

inline double at(const MatchAnswer& answer, const std::string& place) {
    const auto found = std::find_if(answer.places.begin(), answer.places.end(),
                                    [&](const RepairChance& chance) { return chance.place == place; });
    return found == answer.places.end() ? 0 : found->probability;
}

inline double of(const MatchAnswer& answer, const std::string& fault) {
    const auto found = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                    [&](const Candidate& candidate) { return candidate.fault == fault; });
    return found == answer.candidates.end() ? 0 : found->probability;
}

}  // namespace voltfall::testing
