// Does the drawing make sense as a circuit? Problems by the graph, found after the file is read.
#pragma once

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// Parts no wire reaches, loads with no way back or no feed, relay coils with one side, switch positions that reach
/// nothing, a fuse larger than the thinnest wire that a short meets before a load (warning), batteries that fight,
/// a connector cavity with both wires on one half, guessed values (notes).
Problems check_wiring(const Circuit& circuit);

}  // namespace voltfall
