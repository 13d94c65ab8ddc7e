// The circuit with a state and faults laid over it: what a simulator solves. The circuit itself is not touched,
// so taking a fault back is making the network anew.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// A branch as it is solved: its law, how it stands, and its joints.
struct NetworkBranch : BranchState {
    Law law;
    JointId a;
    JointId b;

    NetworkBranch(const Law& of, JointId from, JointId to) : law(of), a(from), b(to) {}
};

struct Network {
    const Circuit* circuit{nullptr};
    std::vector<NetworkBranch> branches;  ///< the circuit's, in order, then the added ones
    std::size_t joints{0};                ///< the circuit's and the added ones
    BatteryState battery{BatteryState::resting};
    std::vector<double> ratings;       ///< by part: rating of the fuse fitted, amperes (0 where none)
    std::vector<double> pull_factors;  ///< by part: how many times its own pull volts a clutch needs
    std::vector<int> held_positions;   ///< by part: a position that a fault holds, or -1

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
    bool conducts(BranchId id) const { return !at(id).open && voltfall::conducts(at(id).law); }
};

/// True for a resistor or closed contact, not open, of less than `copper_ohms`.
inline bool is_copper(const NetworkBranch& branch) {
    if (branch.open) return false;
    return std::visit(
        [&](const auto& law) {
            if (!law.conducts()) return false;
            const std::optional<double> plain = law.plain_ohms();
            return plain && *plain + branch.added_ohms < copper_ohms;
        },
        branch.law);
}

}  // namespace voltfall
