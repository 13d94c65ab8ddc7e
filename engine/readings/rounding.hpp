// Numbers as an answer shows them.
#pragma once

#include <string>
#include <string_view>

#include "netlists/text/quantity.hpp"

namespace voltfall {

/// Nine digits, so that the last bits of a solver do not show: same input, same bytes.
double nine_digits(double value);

/// "0.31ohm": two digits with the unit.
std::string two_digits(double value, Unit unit);

/// "13.57 V", "0.1 A", rounded as a meter shows it.
std::string as_meter(double value, bool is_amps);

/// A row of the defaults table that carries a unit or a percent sign: `3%` is 0.03, `0.3V` is 0.3.
double measured_default(std::string_view row);

}  // namespace voltfall
