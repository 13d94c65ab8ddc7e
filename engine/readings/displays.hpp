// What an instrument displays, as a reading has it: rounded, with the size of its last digit and its text.
#pragma once

#include <string>

#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// The last digit that a 4000-count meter shows at these volts: 0.1 mV below 0.4 V, 10 mV above.
double volts_digit(double volts);
/// The last digits of a meter's volts from 0.4 V on, and of a clamp's amperes.
inline constexpr double meter_digit = 0.01;
inline constexpr double clamp_digit = 0.1;

/// Volts on a meter with that last digit: "10.20V", "123.4mV".
ReadValue volts_displayed(double volts, double digit);
/// Amperes of a clamp, without their direction: "12.1A".
ReadValue amps_displayed(double amps);
/// Ohms: "2.2ohm"; three digits from 400 ohm on.
ReadValue ohms_displayed(double ohms);
/// A gauge read to a tenth of a bar, from Pa: "0.3bar"; a thermometer read to a degree: "95C".
ReadValue gauge_displayed(double value, Unit unit);
/// A rise over the air as a hand tells it, from K: "cold", "warm", "hot".
ReadValue warmth_displayed(double rise);
/// The number printed on a fuse: "7.5A", "20A".
ReadValue rating_displayed(double amps);
/// Ohms that are too many to be measured: "open".
ReadValue overload_displayed();

/// A displayed value as a person reads it off: "10.20 V", "OL (open)".
std::string as_words(const ReadValue& value);

}  // namespace voltfall
