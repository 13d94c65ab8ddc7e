// Joints that stand at a fixed voltage to each other, because copper or a source without ohms ties them.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/solve/star_mesh.hpp"
#include "netlists/circuit/network.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

/// The nodes that a solver works on. Copper makes one node of two joints, with one idle shunt; sources without ohms tie
/// such nodes at a fixed voltage, and one unknown serves all of them.
struct TiedNodes {
    /// A source without ohms, between nodes of copper.
    struct StiffSource {
        std::size_t branch{};
        int from{};  ///< node of copper at its plus
        int to{};
    };
    /// Where a joint's node stands: the unknown it shares, and its volts above it.
    struct Place {
        int unknown{};
        double offset{};
    };

    std::vector<int> copper_of_joint;    ///< joint -> node of copper; 0 holds the reference
    std::vector<Place> place_of_copper;  ///< node of copper -> its unknown; unknown 0 is 0 V
    std::vector<StiffSource> stiff;
    std::vector<BranchEnds> ends;  ///< branch -> unknowns of its joints
    std::vector<double> offset;    ///< branch -> volts that stand across it whatever the unknowns are; empty = 0
    int coppers{0};                ///< without node 0
    int unknowns{0};               ///< without unknown 0

    /// Numbers a network, whose nodes of copper are known, and which branches hold their volts whatever flows (those of
    /// copper too). False where sources without ohms stand against each other or in a loop: no solution.
    bool number(const Network& network, const Nodes& nodes, std::span<const std::uint32_t> tied);

private:
    bool tie_stiff_sources(const Network& network);
};

}  // namespace voltfall
