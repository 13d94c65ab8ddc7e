// Writing quantities: the other half of quantity.cpp.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>

#include "netlists/text/quantity.hpp"

namespace voltfall {

namespace {

std::string to_text(double value, std::chars_format form, int precision) {
    std::array<char, 400> buffer{};  // the longest fixed double has 309 digits before the point
    const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, form, precision);
    return {buffer.data(), result.ptr};
}

void drop_trailing_zeros(std::string& text) {
    if (text.find('.') == std::string::npos) return;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
}

/// Six significant digits, without an exponent for everything that a vehicle holds.
std::string six_digits(double value) {
    constexpr double largest_plain = 1e15;
    constexpr double smallest_plain = 1e-12;
    if (value == 0) return "0";
    if (!std::isfinite(value)) return std::isnan(value) ? "nan" : (value < 0 ? "-inf" : "inf");
    const double size = std::abs(value);
    if (size >= largest_plain || size < smallest_plain) return to_text(value, std::chars_format::scientific, 5);
    const int leading = static_cast<int>(std::floor(std::log10(size)));
    std::string text = to_text(value, std::chars_format::fixed, std::max(0, 5 - leading));
    drop_trailing_zeros(text);
    return text;
}

std::string write_ohms(double value) {
    const double size = std::abs(value);
    if (size == 0 || (size >= 0.1 && size < 1e3)) return six_digits(value) + "ohm";
    if (size < 0.1) return six_digits(value * 1e3) + "mohm";
    return size < 1e6 ? six_digits(value / 1e3) + "kohm" : six_digits(value / 1e6) + "Mohm";
}

std::string write_seconds(double value) {
    const double size = std::abs(value);
    if (size > 0 && size < 1) return six_digits(value * 1e3) + "ms";
    return size < 120 ? six_digits(value) + "s" : six_digits(value / 60) + "min";
}

std::string write_amperes(double value) {
    const bool small = value != 0 && std::abs(value) < 0.1;
    return small ? six_digits(value * 1e3) + "mA" : six_digits(value) + "A";
}

/// Gauges above 0 are whole numbers; 00, 000 and 0000 are -1, -2 and -3.
std::string write_gauge(double value) {
    if (value <= 0 && value >= -3) return std::string(static_cast<std::size_t>(std::lround(1 - value)), '0') + "AWG";
    return six_digits(value) + "AWG";
}

}  // namespace

std::string_view unit_name(Unit unit) {
    switch (unit) {
        case Unit::none:
            return "";
        case Unit::volt:
            return "V";
        case Unit::ampere:
            return "A";
        case Unit::ohm:
            return "ohm";
        case Unit::watt:
            return "W";
        case Unit::second:
            return "s or min";
        case Unit::celsius:
            return "C";
        case Unit::metre:
            return "m or ft";
        case Unit::square_millimetre:
            return "mm2 or AWG";
        case Unit::awg:
            return "AWG";
        case Unit::pascal:
            return "bar";
        case Unit::rpm:
            return "rpm";
        case Unit::percent:
            return "%";
        case Unit::hertz:
            return "Hz";
        case Unit::inertia:
            return "kgm2";
        case Unit::henry:
            return "henry";
        case Unit::way:
            return "way";
    }
    return "";
}

std::string write_measure(double value, Unit unit) {
    switch (unit) {
        case Unit::none:
            return six_digits(value);
        case Unit::volt:
            return six_digits(value) + "V";
        case Unit::ampere:
            return write_amperes(value);
        case Unit::ohm:
            return write_ohms(value);
        case Unit::watt:
            return six_digits(value) + "W";
        case Unit::second:
            return write_seconds(value);
        case Unit::celsius:
            return six_digits(value) + "C";
        case Unit::metre:
            return six_digits(value) + "m";
        case Unit::square_millimetre:
            return six_digits(value) + "mm2";
        case Unit::awg:
            return write_gauge(value);
        case Unit::pascal:
            return six_digits(value / 1e5) + "bar";
        case Unit::rpm:
            return six_digits(value) + "rpm";
        case Unit::percent:
            return six_digits(value * 100) + "%";
        case Unit::hertz:
            return std::abs(value) >= 1e3 ? six_digits(value / 1e3) + "kHz" : six_digits(value) + "Hz";
        case Unit::inertia:
            return six_digits(value * 1e4) + "kgcm2";
        case Unit::henry:
            return six_digits(value * 1e6) + "uH";
        case Unit::way:
            return six_digits(value) + "way";
    }
    return six_digits(value);
}

std::string write_fixed(double value, int decimals) {
    if (!std::isfinite(value)) return std::isnan(value) ? "nan" : (value < 0 ? "-inf" : "inf");
    std::string text = to_text(value, std::chars_format::fixed, std::clamp(decimals, 0, 60));
    const bool nothing = text.find_first_not_of("-0.") == std::string::npos;
    if (nothing && text.front() == '-') text.erase(0, 1);
    return text;
}

}  // namespace voltfall
