// The circuit with a state and faults laid over it: what a simulator solves. The circuit itself is not touched,
// so taking a fault back is making the network anew.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Which way a motor turns; settled around the operating point.
enum class Turning : signed char { backward = -1, standing = 0, forward = 1 };

struct NetworkBranch {
    Law law;
    JointId a;
    JointId b;
    double added_ohms{0};
    bool open{false};          ///< by a fault, or by a state that unplugs it
    bool held{false};          ///< a contact that no switch or relay moves
    Turning turning{Turning::forward};
};

struct Network {
    const Circuit* circuit{nullptr};
    std::vector<NetworkBranch> branches;   ///< the circuit's, in order, then the added ones
    std::size_t joints{0};                 ///< the circuit's and the added ones
    bool charging{false};
    std::vector<double> ratings;           ///< by part: rating of the fuse fitted, amperes (0 where none)
    std::vector<int> held_positions;       ///< by part: a position that a fault holds, or -1

    /// The healthy circuit as drawn: switches at rest, relays dropped, key off.
    explicit Network(const Circuit& of);

    NetworkBranch& at(BranchId id) { return branches[id.index]; }
    const NetworkBranch& at(BranchId id) const { return branches[id.index]; }

    /// Applies changes in order.
    void apply(std::span<const Change> changes);
    /// Adds a path; its branch id.
    BranchId connect(JointId a, JointId b, Law law);

    /// Ohms of a resistive branch as it stands (1e12 when open); NaN for a motor, diode or source.
    double ohms(BranchId id) const;
    /// True when the branch can carry current.
    bool conducts(BranchId id) const;
};

/// Ohms that stand for "open" in every solver (see the measured table in DEVELOPERS.md).
inline constexpr double open_ohms = 1e12;
/// Idle shunt from every node to the reference, ohms.
inline constexpr double shunt_ohms = 1e8;

}  // namespace voltfall
