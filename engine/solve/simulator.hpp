// The seam behind which circuits are solved: a network in, volts and amperes back.
#pragma once

#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// One DC solution. Volts are to the reference (B1-). Currents run from a branch's first to its second joint; NaN for a
/// branch of zero ohms (one piece of copper). Motor speeds in rad/s by branch, 0 elsewhere.
struct OperatingPoint {
    std::vector<double> volts;     ///< by joint
    std::vector<double> amps;      ///< by branch
    std::vector<double> speed;     ///< by branch
};

/// Why there is no solution.
struct SolveFailure {
    enum class Kind { no_solution, engine_lost, bad_network } kind;
    std::string message;
};

using SolveResult = tl::expected<OperatingPoint, SolveFailure>;

class Simulator {
public:
    virtual ~Simulator() = default;
    /// Solves the network as it stands: contacts, motors' turning and opens are taken as given.
    virtual SolveResult solve(const Network& network) = 0;
};

/// Greatest current-law error at any node and power balance error, relative to the largest current (power).
struct Balance {
    double current{};
    double power{};
};
Balance check_balance(const Network& network, const OperatingPoint& point);

}  // namespace voltfall
