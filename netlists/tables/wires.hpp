// Published wire data: resistance by size, ampacity, colours. Sources stand beside each table.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace voltfall {

enum class WireStandard { metric, awg };

/// Ohms per metre at 20 °C. Metric sizes take the ISO 6722-1 table (maximum conductor resistance);
/// AWG sizes take the SAE stranded area with IACS copper; sizes outside both take rho/S (IACS, W1, W2).
double wire_ohm_per_metre(WireStandard standard, double size);

/// Cross-section in mm2 of a typed size: the number itself, or the SAE/AWG area of a gauge.
double wire_area_mm2(WireStandard standard, double size);

/// Solid-round AWG diameter in mm: 0.127 * 92^((36-n)/39) (ASTM B258).
double awg_diameter_mm(double gauge);

/// Resistivity form: IACS copper, 1.7241e-8 ohm.m at 20 °C, over an area in mm2; ohms per metre.
double copper_ohm_per_metre(double area_mm2);

/// Factor on a 20 °C copper resistance at another temperature: 1 + 0.00393 (T - 20).
double copper_temperature_factor(double celsius);

/// Continuous current of one wire, amperes, by area: 105 °C insulation, up to two conductors, 30 °C ambient
/// (33 CFR 183.425 table E, row W20), interpolated by area in log-log; extrapolated below 18 and above 2 AWG.
double wire_ampacity(double area_mm2);

/// What a colour word means: "RD" -> "red", "OG/BK" -> "orange with black"; nothing when no table knows it.
/// IEC 60757 letters; two colours joined by `/`, `-` or nothing.
std::optional<std::string> wire_colour_words(std::string_view letters);

}  // namespace voltfall
