// Quantities with units, as a person types them and as the program keeps them (SI).
#pragma once

#include <compare>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// A number with its dimension in the type. The value is in SI units (volts, amperes, ohms, seconds …),
/// except areas (square millimetres), temperatures (degrees Celsius) and speeds (revolutions per minute).
template <class Dimension>
struct Quantity {
    double value{};

    constexpr auto operator<=>(const Quantity&) const = default;
    constexpr Quantity operator+(Quantity other) const { return {value + other.value}; }
    constexpr Quantity operator-(Quantity other) const { return {value - other.value}; }
    constexpr Quantity operator*(double factor) const { return {value * factor}; }
    constexpr Quantity operator/(double divisor) const { return {value / divisor}; }
    constexpr double operator/(Quantity other) const { return value / other.value; }
};

using Volts = Quantity<struct VoltDimension>;
using Amperes = Quantity<struct AmpereDimension>;
using Ohms = Quantity<struct OhmDimension>;
using Watts = Quantity<struct WattDimension>;
using Seconds = Quantity<struct SecondDimension>;
using Celsius = Quantity<struct CelsiusDimension>;
using Metres = Quantity<struct MetreDimension>;
using SquareMillimetres = Quantity<struct AreaDimension>;
using Rpm = Quantity<struct SpeedDimension>;

constexpr Amperes operator/(Volts v, Ohms r) {
    return {v.value / r.value};
}
constexpr Volts operator*(Amperes i, Ohms r) {
    return {i.value * r.value};
}
constexpr Ohms operator/(Volts v, Amperes i) {
    return {v.value / i.value};
}
constexpr Watts operator*(Volts v, Amperes i) {
    return {v.value * i.value};
}

/// The unit that a typed number carries. Times are seconds, pressures pascals, angles absent.
enum class Unit {
    none,  ///< a bare number: a factor (`drag 1.4`) or a count (`8 way`)
    volt,
    ampere,
    ohm,
    watt,
    second,   ///< also typed as ms, min, h
    celsius,  ///< also typed as F
    metre,    ///< also typed as mm, cm, in, ft
    square_millimetre,
    awg,     ///< American wire gauge; the value is the gauge number (0000 is -3)
    pascal,  ///< typed as bar, psi, kPa, MPa
    rpm,
    percent,  ///< the value is a share: 7% is 0.07
    hertz,
    inertia,  ///< kg.m2, also typed as kgcm2
    henry,    ///< typed as henry, mH or uH
    way,      ///< `8way`
};

/// A number read from text: SI value, its unit, and the size of its last typed digit (0.01 for `12.60V`),
/// which is what a meter's "digits" count.
struct Measure {
    double value{};
    Unit unit{Unit::none};
    double last_digit{};
};

/// Reads a whole token such as `13.8V`, `8mohm`, `2,5mm2`, `16AWG`, `121°C`, `25min`, `60%`, `1.4`.
/// Accepts Ω, mΩ, µ, °C, ga, in, ft, psi, kPa, MPa, F and a decimal comma. Returns nothing when the token
/// is not one number with at most one unit, or when the number is not finite.
std::optional<Measure> parse_measure(std::string_view token);

/// The unit that a token names by itself (`ohm`, `mm2`), for numbers typed with a blank before the unit.
bool is_unit_word(std::string_view token);

/// The spellings of these units that are read behind a number, for suggestions; of every unit where none is named.
std::vector<std::string> unit_words(std::span<const Unit> of = {});

/// The trade's word for a unit in messages: "V", "A", "ohm", "mm2 or AWG".
std::string_view unit_name(Unit unit);

/// Writes a quantity the way a person types it, shortest form that reads back the same to 6 digits:
/// 0.3 ohm -> "0.3ohm", 0.02 -> "20mohm", 1e6 -> "1Mohm"; seconds as ms, s or min; shares as percent.
std::string write_measure(double value, Unit unit);

/// Fixed-point text with the given decimals, never "-0.00"; independent of the locale.
std::string write_fixed(double value, int decimals);

}  // namespace voltfall
