#include "engine/readings/rounding.hpp"

#include <cmath>

#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

double to_digits(double value, int digits) {
    if (value == 0 || !std::isfinite(value)) return value;
    const double scale = std::pow(10.0, digits - 1 - std::floor(std::log10(std::abs(value))));
    return std::isfinite(scale) && scale > 0 ? std::round(value * scale) / scale : value;
}

}  // namespace

double nine_digits(double value) {
    return to_digits(value, 9);
}

std::string two_digits(double value, Unit unit) {
    return write_measure(to_digits(value, 2), unit);
}

std::string as_meter(double value, bool is_amps) {
    return is_amps ? write_fixed(value, 1) + " A" : write_fixed(value, 2) + " V";
}

double measured_default(std::string_view row) {
    const auto measure = parse_measure(default_row(row).text);
    return measure ? measure->value : default_value(row);
}

}  // namespace voltfall
