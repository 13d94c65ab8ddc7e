// Bars of amperes and speed by position, sound and now.
#pragma once

#include <string>
#include <vector>

#include "cli/pictures/picture.hpp"
#include "engine/figures/speed_rows.hpp"

namespace voltfall {

/// `now` is what the second bar is called: "with C101.4 resistance 0.3ohm".
Picture speed_drawing(const std::vector<SpeedRow>& rows, const std::string& now);

}  // namespace voltfall
