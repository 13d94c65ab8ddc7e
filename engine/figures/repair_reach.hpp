// What a repair costs before the first screw is turned.
#pragma once

#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// The place that what is repaired, or a line of [together], begins with: P1 of "P1 pressure", C303 of "C303 plug and
/// pins".
std::string place_in(const std::string& repair);

/// Minutes to the thing to repair, there and back: its own, else those of the part it belongs to ("C101.4" is reached
/// with C101), for a wire those of its nearer end.
Circuit::Reach reach_of_repair(const Circuit& circuit, const std::string& repair);

/// What [together] says is replaced with it; empty where it says nothing.
std::vector<std::string> replaced_with(const Circuit& circuit, const std::string& repair);

}  // namespace voltfall
