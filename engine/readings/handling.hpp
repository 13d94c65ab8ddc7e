// Where a fault sits when somebody wiggles, taps, heats or cools something.
#pragma once

#include <string_view>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Does what was handled move the fault's place? `words` are a verb and a place: "wiggle C130". Moving a plug moves the
/// wires in it, and a wire the plugs at its ends.
bool is_handled_at(const Circuit& circuit, const FaultMode& mode, std::string_view words);

}  // namespace voltfall
