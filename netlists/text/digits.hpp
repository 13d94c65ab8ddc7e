// Numbers cut to the digits that an answer shows.
#pragma once

#include <string>

namespace voltfall {

/// The value at so many significant digits, never -0; infinity and NaN as they are.
double significant(double value, int digits);

/// The value at twelve significant digits (and never -0), so that the same input gives the same bytes. Infinity and NaN
/// are given back as they are.
double twelve_digits(double value);

/// The number as plain text, twelve digits, shortest form; empty for NaN, "inf" and "-inf" for infinities.
std::string plain_number(double value);

}  // namespace voltfall
