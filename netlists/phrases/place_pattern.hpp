// Patterns of `expect.csv`: which rows of the catalogue count as found.
#pragma once

#include <string_view>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// `PLACE` or `PLACE MODE`. A place without a mode means any mode there; a connector, plug or splice without a cavity
/// any of its cavities; the number of a chain any of its pieces. A part means only itself, not its sockets. A mode may
/// be given by its first words (`R1 coil 1-2`).
bool matches_place_pattern(const Circuit& circuit, std::string_view pattern, const FaultMode& mode);

/// Patterns between `|`, any of which may match.
bool matches_any_place_pattern(const Circuit& circuit, std::string_view patterns, const FaultMode& mode);

}  // namespace voltfall
