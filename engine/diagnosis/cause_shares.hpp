// How often each sort of thing is the cause, as counted in cases whose cause is known.
#pragma once

#include <array>
#include <cstddef>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// What a circuit is for; causes are not spread alike over blowers and the rest.
enum class CircuitPurpose { blower, other };

/// A circuit with a resistor pack, or with a control that is called a blower's.
CircuitPurpose purpose_of(const Circuit& circuit);

/// Joints fail at rates of their own: a crimped splice inside the loom hardly ever, a ground in the wet often.
enum class JointSort {
    plug,      ///< cavity of a connector, or of a plug with a name of its own
    seat,      ///< grip of a fuse, breaker, link or relay in its socket
    terminal,  ///< a part's own terminal, where its plug has no name
    ground,    ///< where wires meet the vehicle's metal
    splice,    ///< leg of a splice
    bridge,    ///< between two cavities of one connector; all pairs of it are one thing
};
inline constexpr std::size_t joint_sorts = 6;

JointSort joint_sort(const Circuit& circuit, const FaultMode& mode);

/// Causes by sort of joint, with the things of that sort that a circuit has.
struct JointCount {
    double found{};   ///< causes found there, cases; a case with several equal places counts in parts
    double things{};  ///< mean number in the circuits of those cases
};

class CauseShares {
public:
    /// Shares by class from the table of defaults, rates of joints from the counted cases.
    static const CauseShares& usual();

    /// Share of a class among the causes in such circuits, 0 to 1.
    double of_class(FaultClass fault_class, CircuitPurpose purpose) const;
    /// The same of one thing of the class: the share over the number of such things that circuits usually have.
    double of_thing(const Circuit& circuit, const FaultMode& mode, CircuitPurpose purpose) const;

    /// The shares if one case with this cause had not been counted (for a score that leaves the case out).
    CauseShares without(const Circuit& circuit, const FaultMode& cause) const;

private:
    CauseShares();
    static constexpr std::size_t classes = 11;
    static constexpr std::size_t purposes = 2;
    double& share(FaultClass fault_class, CircuitPurpose purpose);
    double joint_rate(JointSort sort) const;

    std::array<std::array<double, classes>, purposes> shares_{};
    std::array<double, purposes> cases_{};  ///< behind the shares
    std::array<JointCount, joint_sorts> joints_{};
};

}  // namespace voltfall
