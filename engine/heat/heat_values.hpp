// A figure of heat for one circuit: what its [heat] section says, else the default.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Value of a row of the defaults table, SI (°C, s), as the circuit's file sets it or by default.
double heat_value(const Circuit& circuit, std::string_view row);

/// The figures that the file does not set and that no source gives, in words: "pack-rise 55 C".
std::vector<std::string> assumed_heat(const Circuit& circuit);

/// Temperature class of a wire's insulation, °C: its own, else the circuit's.
double wire_class(const Circuit& circuit, const Wire& wire);

}  // namespace voltfall
