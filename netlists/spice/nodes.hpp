// Joints tied by zero ohms are one electrical node.
#pragma once

#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// Node number of every joint; 0 is the node of the circuit's reference, the others count from 1 in joint order.
struct Nodes {
    std::vector<int> of_joint;
    int count{0};  ///< without node 0
};
Nodes number_nodes(const Network& network);

}  // namespace voltfall
