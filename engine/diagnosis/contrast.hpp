// What tells the leading suspect from the next one that the readings part from it.
#pragma once

#include <optional>

#include "engine/diagnosis/answer.hpp"
#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// The readings that part the leader from the first suspect of another repair that they do part from it, the strongest
/// first; each speaks for one of the two. Nullopt where there is no other suspect, or no reading parts any from it.
std::optional<Contrast> contrast_of(const Weighed& weighed, const std::vector<std::size_t>& ranked);

}  // namespace voltfall
