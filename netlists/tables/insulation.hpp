// Insulation on hot metal.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// Seconds until insulation in full contact with metal of a temperature melts through: a slab that warms from one side,
/// t = td ln((Ts - T0) / (Ts - Tm)) with td = 4 d^2 / (pi^2 a), a = 1.1e-7 m2/s (reference parts 4.1; DERIVED with
/// constants from MEMORY: no times are published). Infinite at or below the melting point, where it creeps only.
/// Celsius and millimetres.
double melt_through_seconds(double metal_celsius, double start_celsius, double melts_at_celsius, double wall_mm);

/// Temperature class of a wire by the printed type of its insulation ("FLRY-B", "GXL", "AVSS"), °C; compared without
/// case and hyphen; nothing when no table has it.
std::optional<double> insulation_class(std::string_view type);

/// The types that have a class, for suggestions: "FLRY-B", "GXL".
std::vector<std::string> insulation_types();

/// Light touch takes longer by a factor between these two (ASSUMED).
inline constexpr double light_touch_least = 10;
inline constexpr double light_touch_most = 100;

}  // namespace voltfall
