// The temperature of one body that heats linearly: dT/dt = rise + feedback T.
#pragma once

#include <optional>

namespace voltfall {

/// One thermal pole. With heat capacity C (J/K), conductance G (W/K) to surroundings at Ta and power P: rise =
/// (P + G Ta) / C, feedback = -G / C. A copper wire's power grows with its temperature, which weakens the feedback and
/// may turn it: then the temperature runs away.
struct LinearHeat {
    double rise{};      ///< K/s at 0 °C
    double feedback{};  ///< 1/s
};

LinearHeat heat_of_body(double watts, double capacity, double conductance, double ambient_celsius);

/// A wire, per metre: its ohms at 20 °C with copper's 0.393 %/K (W3).
LinearHeat heat_of_wire(double amps, double ohms_at_20, double capacity, double conductance, double ambient_celsius);

double temperature_after(const LinearHeat& heat, double from_celsius, double seconds);

/// Seconds until a temperature above `from` is reached; 0 when it is there already, nothing when never.
std::optional<double> seconds_to_reach(const LinearHeat& heat, double from_celsius, double to_celsius);

/// The same downwards: seconds until it has cooled to a temperature below `from`.
std::optional<double> seconds_to_cool_to(const LinearHeat& heat, double from_celsius, double to_celsius);

/// Where it ends; nothing when it runs away.
std::optional<double> steady_temperature(const LinearHeat& heat);

}  // namespace voltfall
