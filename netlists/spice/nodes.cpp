#include "netlists/spice/nodes.hpp"

#include <cstddef>

#include "netlists/circuit/disjoint_sets.hpp"

namespace voltfall {

Nodes number_nodes(const Network& network) {
    DisjointSets copper(network.joints);
    for (const NetworkBranch& branch : network.branches)
        if (is_copper(branch)) copper.join(branch.a.index, branch.b.index);
    Nodes nodes;
    nodes.of_joint.assign(network.joints, -1);
    const JointId reference = network.circuit->reference;
    if (reference.valid()) nodes.of_joint[copper.set_of(reference.index)] = 0;
    for (std::uint32_t joint = 0; joint < network.joints; ++joint) {
        int& of_root = nodes.of_joint[copper.set_of(joint)];
        if (of_root < 0) of_root = ++nodes.count;
        nodes.of_joint[joint] = of_root;
    }
    return nodes;
}

}  // namespace voltfall
