// The voltage ladder as a picture: joints downwards, volts across.
#pragma once

#include "cli/pictures/picture.hpp"
#include "engine/figures/voltage_ladder.hpp"

namespace voltfall {

Picture ladder_drawing(const VoltageLadder& ladder);

}  // namespace voltfall
