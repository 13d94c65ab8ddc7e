// Words of what heat does.
#pragma once

#include <string>
#include <string_view>

#include "engine/heat/bodies.hpp"

namespace voltfall {

/// What the temperature of an event does, as the end of a sentence: ": its plastic softens"; empty for a rating.
std::string_view harm_of(BodyKind kind);

/// What happens at the limit of a body that has one: "R1 limiter opens at 121 C", "Z1 folds back at 110 C", "M1 cuts
/// out at 130 C". `part` is the body's.
std::string limit_words(const Body& body, std::string_view part);
/// That it is harmed although something would act later, as the end of a sentence.
std::string before_limit_words(const Body& body);
/// Of a fan unit that has cooled: "M1 has cooled and runs again"; and when it is too hot once more.
std::string runs_again_words(std::string_view part);
std::string cuts_out_again_words(std::string_view part);

}  // namespace voltfall
