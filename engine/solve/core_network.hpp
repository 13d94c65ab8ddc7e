// One network as the core works on it: straight branches as conductance and EMF, curved ones by their laws.
#pragma once

#include <cmath>
#include <cstdint>
#include <vector>

#include "engine/solve/simulator.hpp"
#include "engine/solve/tied_nodes.hpp"

namespace voltfall {

enum class BranchShape : unsigned char { tied, straight, curved };

/// The branches of one network, read once.
struct CoreBranches {
    std::vector<BranchShape> shape;
    std::vector<double> siemens;        ///< of straight branches, else 0
    std::vector<double> emf;            ///< of straight branches, else 0
    std::vector<std::uint32_t> curved;  ///< indices
    std::vector<std::uint32_t> tied;    ///< indices, those of copper too
    double highest_emf{0};

    /// False where a value cannot be (not a number, no or negative ohms).
    bool read(const Network& network);
};

inline Flow flow_of(const NetworkBranch& branch, double volts, double& memory) {
    return std::visit([&](const auto& law) { return law.flow(branch, volts, memory); }, branch.law);
}

inline double first_volts_of(const NetworkBranch& branch, double highest_emf) {
    return std::visit([&](const auto& law) { return law.first_volts(branch, highest_emf); }, branch.law);
}

/// A straight branch whose conductance is not that of `CoreBranches`.
using OtherSiemens = std::pair<std::uint32_t, double>;

/// The operating point that volts of the unknowns make. `memory` by branch.
OperatingPoint point_of(const Network& network, const TiedNodes& nodes, const CoreBranches& branches,
                        std::span<const double> volts, std::span<double> memory,
                        std::span<const OtherSiemens> others = {});

/// Volts across a branch.
inline double across(const TiedNodes& nodes, std::span<const double> volts, std::size_t branch) {
    const double own = volts[nodes.ends[branch].a] - volts[nodes.ends[branch].b];
    return nodes.offset.empty() ? own : own + nodes.offset[branch];
}

}  // namespace voltfall
