#include "engine/readings/displays.hpp"

#include "netlists/phrases/values.hpp"

#include <cmath>
#include <limits>

namespace voltfall {

namespace {

/// Below this a meter shows tenths of a millivolt, above hundredths of a volt (a 4000-count meter).
constexpr double millivolts_below = 0.4;
/// From here on ohms are shown with three digits.
constexpr double tenths_below_ohms = 400;

struct Display {
    Unit unit;
    std::string_view suffix;
    int decimals;     ///< may be negative: tens, hundreds
    double scale{1};  ///< of the suffix: 0.001 for mV
};

ReadValue displayed(double value, const Display& display) {
    const double counts = std::pow(10.0, display.decimals) / display.scale;
    ReadValue read;
    read.low = read.high = std::round(value * counts) / counts;
    read.last_digit = 1 / counts;
    read.unit = display.unit;
    read.text = write_fixed(read.low / display.scale, display.decimals) + std::string(display.suffix);
    return read;
}

}  // namespace

double volts_digit(double volts) {
    return std::abs(volts) < millivolts_below ? 0.0001 : meter_digit;
}

ReadValue volts_displayed(double volts, double digit) {
    return displayed(volts, digit < 0.001 ? Display{Unit::volt, "mV", 1, 1e-3} : Display{Unit::volt, "V", 2});
}

ReadValue amps_displayed(double amps) {
    return displayed(std::abs(amps), {Unit::ampere, "A", 1});
}

ReadValue ohms_displayed(double ohms) {
    if (ohms < tenths_below_ohms) return displayed(ohms, {Unit::ohm, "ohm", 1});
    ReadValue read = displayed(ohms, {Unit::ohm, "ohm", 2 - static_cast<int>(std::floor(std::log10(ohms)))});
    read.text = write_measure(read.low, Unit::ohm);
    return read;
}

ReadValue gauge_displayed(double value, Unit unit) {
    return displayed(value, unit == Unit::pascal ? Display{unit, "bar", 1, 1e5} : Display{unit, "C", 0});
}

ReadValue warmth_displayed(double rise) {
    for (const std::string_view word : {"cold", "warm"}) {
        if (ReadValue felt = rise_felt(word); rise < felt.high) return felt;
    }
    return rise_felt("hot");
}

ReadValue rating_displayed(double amps) {
    return displayed(amps, {Unit::ampere, "A", std::abs(amps - std::round(amps)) < 0.05 ? 0 : 1});
}

ReadValue overload_displayed() {
    ReadValue read;
    read.low = read.high = std::numeric_limits<double>::infinity();
    read.unit = Unit::ohm;
    read.open = true;
    read.text = "open";
    return read;
}

std::string as_words(const ReadValue& value) {
    if (value.open) return "OL (open)";
    const bool digits_only = value.unit == Unit::ohm && value.low >= tenths_below_ohms;
    const auto unit = value.text.find_first_not_of("-0123456789.");
    if (digits_only || unit == std::string::npos) return value.text;
    return value.text.substr(0, unit) + " " + value.text.substr(unit);
}

}  // namespace voltfall
