// The temperature of a wire at a constant current, in a short and after it.
#pragma once

#include <optional>

#include "engine/heat/bodies.hpp"

namespace voltfall {

/// Up to this time a short heats the copper alone: the standard's adiabatic form, which leaves out what the insulation
/// takes up (IEC 60949 with reference wires W32, W33; insulation limits of shorts hold for as long, S69). Seconds.
inline constexpr double short_circuit_seconds = 5;

/// A wire's temperature, °C, after a constant current has run for some seconds from a temperature. Up to
/// `short_circuit_seconds` its nominal copper without losses; later the wire with its insulation in air, though never
/// below what it had then. Capped by nothing: a wire that runs away goes beyond any temperature.
double wire_temperature_after(const Body& wire, double amps, double from_celsius, double seconds);

/// Seconds until the wire reaches a temperature by the same account; nothing when never.
std::optional<double> wire_seconds_to_reach(const Body& wire, double amps, double from_celsius, double to_celsius);

}  // namespace voltfall
