// What a network's connections alone tell: kept from case to case, since most cases of a sweep differ in values only.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "netlists/circuit/network.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

struct StarMeshPlan;

/// Answers for one network after the other. A network that is connected as the one before costs a comparison; one that
/// is connected as any that this thread has met of late costs a look-up besides.
class Connections {
public:
    Connections();
    ~Connections();
    Connections(const Connections&) = delete;
    Connections& operator=(const Connections&) = delete;

    /// The answers below are of this network, which must stand as it does until they are asked for.
    Connections& look_at(const Network& network);

    /// Joints with no path to the reference.
    const std::vector<JointId>& floating();
    /// Joints tied by zero ohms, as one node.
    const Nodes& nodes();
    /// See `motors_with_way_round`; `motors` are all motors of the network.
    const std::vector<bool>& motors_with_way(std::span<const std::size_t> motors);
    /// Place for the plan by which `nodes` are eliminated, every branch between the nodes of its joints; null until it
    /// is set.
    std::shared_ptr<const StarMeshPlan>& plan();

private:
    struct Known;
    class Store;

    const Network* network_{nullptr};
    std::shared_ptr<Known> known_;      ///< of `network_`
    std::vector<std::uint64_t> print_;  ///< joints and reference, then a word a branch: its ends, and how it conducts
};

}  // namespace voltfall
