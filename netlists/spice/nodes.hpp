// Joints tied by zero ohms are one electrical node.
#pragma once

#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// Less than this is one piece of copper, ohms: at 1000 A it would drop 0.1 mV, and a solver's rounding of node volts
/// over it would already show in the currents.
inline constexpr double copper_ohms = 1e-7;

/// True for a resistor or closed contact, not open, of less than `copper_ohms`.
bool is_copper(const NetworkBranch& branch);

/// Node number of every joint; 0 is the node of the circuit's reference, the others count from 1 in joint order.
struct Nodes {
    std::vector<int> of_joint;
    int count{0};  ///< without node 0
};
Nodes number_nodes(const Network& network);

}  // namespace voltfall
