#include "netlists/text/digits.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace voltfall {

namespace {

/// A program that reads the JSON gets enough digits to check the 1e-6 V that the decks are held to, and the noise of
/// the last bits stays out.
constexpr int machine_digits = 12;

}  // namespace

double significant(double value, int digits) {
    if (!std::isfinite(value) || value == 0) return std::isfinite(value) ? 0 : value;
    std::array<char, 64> text{};
    const auto written =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::scientific, digits - 1);
    double rounded = 0;
    std::from_chars(text.data(), written.ptr, rounded);
    return rounded;
}

double twelve_digits(double value) {
    return significant(value, machine_digits);
}

std::string plain_number(double value) {
    if (std::isnan(value)) return "";
    if (std::isinf(value)) return value > 0 ? "inf" : "-inf";
    std::array<char, 64> text{};
    const auto written = std::to_chars(text.data(), text.data() + text.size(), twelve_digits(value));
    return {text.data(), written.ptr};
}

}  // namespace voltfall
