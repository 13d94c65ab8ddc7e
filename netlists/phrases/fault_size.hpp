// What the size of a fault can be.
#pragma once

#include "netlists/circuit/fault_mode.hpp"
#include "netlists/tables/figure_bounds.hpp"

namespace voltfall {

/// The row of the table of bounds for the size of a mode that has one: ohms, volts, amperes or a bare factor.
const FigureBounds& size_bounds(const FaultMode& mode);

}  // namespace voltfall
