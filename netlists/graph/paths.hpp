// Questions about the circuit as a graph, on Boost.Graph: vertices are joints, edges are branches.
// The only place that includes Boost.Graph.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// Joints that no conducting branch ties to the reference, directly or through others.
/// With `through_diodes` false, diodes do not count as ties (what remains is `weak`).
enum class Diodes { conduct, block };
std::vector<JointId> floating_joints(const Network& network, Diodes diodes = Diodes::conduct);

/// Does the branch pass current one way only?
bool is_diode(const NetworkBranch& branch);

/// Island number of every joint, joints tied together by conducting branches share one.
std::vector<int> islands(const Network& network);

/// The branches on the way with the fewest ohms from one joint to another, in order; empty when there is none.
/// Loads other than `through` are not walked through (a feed path does not run through another motor).
std::vector<BranchId> path(const Network& network, JointId from, JointId to, BranchId avoid = {});

/// As `path`, through wires and closed contacts only (no load, coil, pack or resistor): a dead short as drawn.
std::vector<BranchId> metal_path(const Network& network, JointId from, JointId to);

/// Branches whose opening alone cuts the joint off from the battery or from the reference: what everything hangs on.
/// Only those that cut off an end of a load or relay coil count; in the order of the circuit's branches.
std::vector<BranchId> bridges(const Network& network);

/// A load's way from battery plus and back to battery minus, as branches in order of the current. With batteries in
/// series the feed starts at the plus that the way leaves. A ballast (resistor part) may stand in the way; where
/// nothing else leads on, so may loads of the same kind: two motors in series.
struct LoadPath {
    PartId load;
    std::vector<BranchId> feed;  ///< B1+ to the load
    std::vector<BranchId> back;  ///< load to B1-
    bool complete{false};
};
LoadPath load_path(const Network& network, PartId load);
/// The same for one branch, such as a relay's coil; `load` is its owner.
LoadPath branch_path(const Network& network, BranchId branch);

/// The same for many branches of one network, which must not change meanwhile: its ways are found once.
class LoadPaths {
public:
    explicit LoadPaths(const Network& network);
    ~LoadPaths();
    LoadPath through(BranchId branch) const;

private:
    struct Ways;
    std::unique_ptr<Ways> ways_;
};

/// Branches in series with each other with no joint between that a probe may touch: faults in them cannot be told
/// apart.
std::vector<std::vector<BranchId>> series_runs(const Network& network);

}  // namespace voltfall
