// Published wire data: resistance by size, ampacity. Sources stand beside each table.
#pragma once

namespace voltfall {

/// Melting point of copper, °C (row W5).
inline constexpr double copper_melts_celsius = 1083;
/// Heat capacity of a metre of copper of 1 mm2, J/K (IEC 60949: 3.45e-3 J/(K mm3)).
inline constexpr double copper_joule_per_metre_mm2 = 3.45;

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

/// Area of the wire that has this ampacity, mm2: the same table the other way.
double area_of_ampacity(double amps);

/// Share of a wire's ampacity that is left in a bundle of so many wires that all carry current: 1 up to two, 0.70 for
/// three, 0.60 for four to six, 0.50 for seven to 24 (row W21); more than 24 count as 24.
double bundle_factor(int wires);

/// Current that melts a copper wire in some seconds from a temperature, amperes: Onderdonk's form with (234 + Ta), no
/// heat lost, good to about 5 s (row W30). `melts_at` °C; area in mm2.
double melting_amps(double area_mm2, double seconds, double from_celsius, double melts_at = copper_melts_celsius);

/// Seconds in which a current melts a copper wire, the same form; above about 5 s it promises too little.
double melting_seconds(double area_mm2, double amps, double from_celsius);

/// Current that melts a round bare copper wire in still air after a long time, amperes: Preece, 80 d^1.5 with the
/// diameter in mm (row W31).
double long_melting_amps(double diameter_mm);

}  // namespace voltfall
