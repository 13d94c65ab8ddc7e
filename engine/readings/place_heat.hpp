// Heat where a person looks, feels or smells, from the currents of a solved case.
#pragma once

#include <string>

#include "engine/readings/word_evidence.hpp"

namespace voltfall {

/// Heat at a place: of contacts the hottest one, of a pack or resistor all its coils, watts.
struct PlaceHeat {
    double joint{};
    double coils{};
};

PlaceHeat heat_at(const Circuit& circuit, const Settled& settled, const std::string& place);

/// Steady rise over the air, K.
double rise_of(const Circuit& circuit, const Settled& settled, const std::string& place);

/// Chance that the case has softened the plastic about the hottest contact of a place, 0 to 1, by its steady heat in
/// the states that the job names (`joint_limit` of the defaults).
double softening_chance(const WordContext& context, const std::string& place);

}  // namespace voltfall
