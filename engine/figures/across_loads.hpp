// What stands across a load and is none: a diode or a resistor that takes the coil's kick.
#pragma once

#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Parts of two ends that are wired to both sides of the load, wires, plugs and splices between counted as nothing; in
/// the order of the file. Other loads are not among them: they have a way of their own.
std::vector<std::string> parts_across(const Circuit& circuit, PartId load);

}  // namespace voltfall
