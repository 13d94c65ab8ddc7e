#include "netlists/graph/wired_with.hpp"

namespace voltfall {

std::vector<JointId> wired_with(const Circuit& circuit, JointId joint) {
    std::vector<bool> seen(circuit.joints.size(), false);
    for (const JointId common : {circuit.reference, circuit.metal, circuit.bus_30, circuit.bus_15}) {
        if (common.valid()) seen[common.index] = true;
    }
    if (!joint.valid() || seen[joint.index]) return {};
    seen[joint.index] = true;
    std::vector<JointId> found{joint};
    for (std::size_t next = 0; next < found.size(); ++next) {
        const JointId at = found[next];
        for (const Branch& branch : circuit.branches) {
            const bool joins =
                branch.wire.valid() || branch.sort == BranchSort::contact || branch.sort == BranchSort::socket;
            if (!joins || (branch.a != at && branch.b != at)) continue;
            const JointId other = branch.a == at ? branch.b : branch.a;
            if (seen[other.index]) continue;
            seen[other.index] = true;
            found.push_back(other);
        }
    }
    return found;
}

}  // namespace voltfall
