#include "netlists/spice/nodes.hpp"

#include <cstddef>
#include <numeric>

namespace voltfall {

namespace {

/// Union-find with path halving.
std::uint32_t root(std::vector<std::uint32_t>& parent, std::uint32_t joint) {
    while (parent[joint] != joint) {
        parent[joint] = parent[parent[joint]];
        joint = parent[joint];
    }
    return joint;
}

}  // namespace

Nodes number_nodes(const Network& network) {
    std::vector<std::uint32_t> parent(network.joints);
    std::iota(parent.begin(), parent.end(), 0U);
    for (const NetworkBranch& branch : network.branches) {
        if (!is_copper(branch)) continue;
        const std::uint32_t a = root(parent, branch.a.index);
        const std::uint32_t b = root(parent, branch.b.index);
        if (a < b) parent[b] = a;
        if (b < a) parent[a] = b;
    }
    Nodes nodes;
    nodes.of_joint.assign(network.joints, -1);
    const JointId reference = network.circuit->reference;
    if (reference.valid()) nodes.of_joint[root(parent, reference.index)] = 0;
    for (std::uint32_t joint = 0; joint < network.joints; ++joint) {
        int& of_root = nodes.of_joint[root(parent, joint)];
        if (of_root < 0) of_root = ++nodes.count;
        nodes.of_joint[joint] = of_root;
    }
    return nodes;
}

}  // namespace voltfall
