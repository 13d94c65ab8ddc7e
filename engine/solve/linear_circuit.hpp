// The circuit linearised at an operating point: how much a reading moves when a part is not quite what the file says.
#pragma once

#include <memory>
#include <vector>

#include "engine/solve/simulator.hpp"
#include "netlists/circuit/network.hpp"

namespace voltfall {

/// Derivatives of one reading.
struct ReadingSlope {
    std::vector<double> tolerance;  ///< per one sigma of each branch of the circuit's own tolerance, by branch
    double supply{0};               ///< per volt of the battery's EMF
};

/// Every branch as its small-signal conductance at the point, with the shunts of the deck. One sparse elimination
/// serves all readings; each costs one more solve (adjoint: the matrix is symmetric).
class LinearCircuit {
public:
    LinearCircuit(const Network& network, const OperatingPoint& point);
    ~LinearCircuit();
    LinearCircuit(LinearCircuit&&) noexcept;
    LinearCircuit& operator=(LinearCircuit&&) noexcept;

    /// Red lead less black lead.
    ReadingSlope volts(JointId red, JointId black) const;
    /// Current of a branch with ohms, first joint to second.
    ReadingSlope amps(BranchId branch) const;

    /// Volts of every joint per ampere driven into `into` and out of `out_of`.
    std::vector<double> response(JointId into, JointId out_of) const;
    /// Derivative of red less black by the ohms of one branch.
    double volts_per_ohm(JointId red, JointId black, BranchId branch) const;

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

/// Small-signal ohms of a branch at its operating point: a resistor's own, a motor's with its back-EMF, a diode's
/// slope. Zero for one piece of copper.
double slope_ohms(const NetworkBranch& branch, const BranchPoint& point);

}  // namespace voltfall
