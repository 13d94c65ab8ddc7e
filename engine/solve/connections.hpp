// What a network's connections alone tell: kept from case to case, since most cases of a sweep differ in values only.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "netlists/circuit/network.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

/// Answers for one network after the other; a network that is connected as the one before costs a comparison.
class Connections {
public:
    /// Joints with no path to the reference.
    const std::vector<JointId>& floating(const Network& network);
    /// Joints tied by zero ohms, as one node.
    const Nodes& nodes(const Network& network);
    /// See `motors_with_way_round`; `motors` are all motors of the network.
    const std::vector<bool>& motors_with_way(const Network& network, std::span<const std::size_t> motors);

private:
    /// Forgets the answers where the network is connected otherwise than the one before.
    void look_at(const Network& network);

    std::vector<std::uint64_t> print_;  ///< a word a branch: its ends, and whether it conducts
    std::vector<std::uint64_t> before_;
    std::size_t joints_{0};
    std::optional<std::vector<JointId>> floating_;
    std::optional<Nodes> nodes_;
    std::optional<std::vector<bool>> ways_;
};

}  // namespace voltfall
