#include "engine/heat/linear_heat.hpp"

#include <cmath>

namespace voltfall {

namespace {

/// Copper's resistance per kelvin at 20 °C (Industrial Power Engineering Handbook p.970).
constexpr double copper_per_kelvin = 0.00393;
/// Below this feedback the temperature is a least_feedback line over any time asked for here, 1/s.
constexpr double least_feedback = 1e-12;

}  // namespace

LinearHeat heat_of_body(double watts, double capacity, double conductance, double ambient_celsius) {
    return {(watts + conductance * ambient_celsius) / capacity, -conductance / capacity};
}

LinearHeat heat_of_wire(double amps, double ohms_at_20, double capacity, double conductance, double ambient_celsius) {
    const double watts_at_20 = amps * amps * ohms_at_20;
    const double watts_per_kelvin = watts_at_20 * copper_per_kelvin;
    return {(watts_at_20 - 20 * watts_per_kelvin + conductance * ambient_celsius) / capacity,
            (watts_per_kelvin - conductance) / capacity};
}

double temperature_after(const LinearHeat& heat, double from_celsius, double seconds) {
    if (std::abs(heat.feedback) < least_feedback) return from_celsius + heat.rise * seconds;
    const double end = -heat.rise / heat.feedback;
    return end + (from_celsius - end) * std::exp(heat.feedback * seconds);
}

std::optional<double> seconds_to_reach(const LinearHeat& heat, double from_celsius, double to_celsius) {
    if (from_celsius >= to_celsius) return 0.0;
    if (!(heat.rise + heat.feedback * from_celsius > 0)) return std::nullopt;
    if (std::abs(heat.feedback) < least_feedback) return (to_celsius - from_celsius) / heat.rise;
    const double end = -heat.rise / heat.feedback;
    const double ratio = (to_celsius - end) / (from_celsius - end);
    if (!(ratio > 0)) return std::nullopt;
    const double seconds = std::log(ratio) / heat.feedback;
    return seconds > 0 && std::isfinite(seconds) ? std::optional(seconds) : std::nullopt;
}

std::optional<double> seconds_to_cool_to(const LinearHeat& heat, double from_celsius, double to_celsius) {
    // With all signs turned it is a temperature that rises.
    return seconds_to_reach({-heat.rise, heat.feedback}, -from_celsius, -to_celsius);
}

std::optional<double> steady_temperature(const LinearHeat& heat) {
    if (!(heat.feedback < 0)) return std::nullopt;
    return -heat.rise / heat.feedback;
}

}  // namespace voltfall
