// The figures of heat that a circuit's [heat] section may set.
#pragma once

#include <span>
#include <string_view>

#include "netlists/text/quantity.hpp"

namespace voltfall {

/// A row of the defaults table by its key in the file: `ambient-air = "60C"` sets `ambient_air`.
struct HeatRow {
    std::string_view key;
    std::string_view row;
    Unit unit{Unit::none};  ///< celsius also for a rise in kelvin
    double low{};
    double high{};
    std::string_view what;  ///< for messages
};

std::span<const HeatRow> heat_rows();

}  // namespace voltfall
