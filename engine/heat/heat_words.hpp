// Words of what heat does.
#pragma once

#include <string>
#include <string_view>

#include "engine/heat/bodies.hpp"

namespace voltfall {

/// What the temperature of an event does, as the end of a sentence: ": its plastic softens"; empty for a rating.
std::string_view harm_of(BodyKind kind);

/// What happens at the limit of a body that has one: "R1 limiter opens at 121 C", "Z1 folds back at 110 C".
std::string limit_words(const Body& body);

}  // namespace voltfall
