// Words of what heat does.
#pragma once

#include <string_view>

#include "engine/heat/bodies.hpp"

namespace voltfall {

/// What the temperature of an event does, as the end of a sentence: ": its plastic softens"; empty for a rating.
std::string_view harm_of(BodyKind kind);

}  // namespace voltfall
