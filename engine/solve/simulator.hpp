// The seam behind which circuits are solved: a network in, volts and amperes back.
#pragma once

#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "netlists/circuit/network.hpp"
#include "netlists/spice/deck.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

/// One DC solution. Volts are to the reference (B1-). Currents run from a branch's first to its second joint; NaN for a
/// branch of zero ohms (one piece of copper). Motor speeds in rad/s by branch, 0 elsewhere.
struct OperatingPoint {
    std::vector<double> volts;  ///< by joint
    std::vector<double> amps;   ///< by branch
    std::vector<double> speed;  ///< by branch
};

/// Why there is no solution.
struct SolveFailure {
    enum class Kind { no_solution, engine_lost, bad_network } kind;
    std::string message;
};

using SolveResult = tl::expected<OperatingPoint, SolveFailure>;

/// Volts by which an answer and the simulator of record may differ at a joint.
inline constexpr double confirmed_within = 1e-6;

class Simulator {
public:
    virtual ~Simulator() = default;
    /// Solves the network as it stands: contacts, motors' turning and opens are taken as given.
    virtual SolveResult solve(const Network& network) = 0;
    /// Solves each network; the answers do not depend on what else is asked for. `results` is as long as `networks`.
    virtual void solve_all(std::span<const Network* const> networks, std::span<SolveResult> results) {
        for (std::size_t i = 0; i < networks.size(); ++i) results[i] = solve(*networks[i]);
    }
    /// Has an answer of this simulator confirmed by the simulator of record before a person sees its numbers; does
    /// nothing where that is itself. The joints `left_out` are not compared. A difference above `confirmed_within` is a
    /// bug (UnsoundCase, naming the joint); a simulator of record that has left is std::runtime_error.
    virtual void confirm(const Network& network, const OperatingPoint& point, std::span<const JointId> left_out);
};

/// Greatest current-law error at any node, relative to the largest current or to what meets at the node if that is
/// more, and power balance error, relative to the largest power. Both are below `balance_tolerance` for a true
/// solution; a floor of 1 mA (30 mW) stands for circuits in which nothing flows, and what rounding of the volts over a
/// small resistance can do is allowed for.
struct Balance {
    double current{};
    double power{};
    double volts{};  ///< by which a straight branch misses its own law, relative to the greatest EMF about

    bool holds() const;
};
Balance check_balance(const Network& network, const OperatingPoint& point, Shunts shunts = Shunts::idle);
/// The same where the network's nodes are known.
Balance check_balance(const Network& network, const OperatingPoint& point, const Nodes& nodes, Shunts shunts);

/// 1e-6 of the largest current, plus 1 nA by the floor.
inline constexpr double balance_tolerance = 1e-6;
/// A source's volts at its current, by the simulator's own tolerance of currents.
inline constexpr double law_tolerance = 1e-5;

inline bool Balance::holds() const {
    return current <= balance_tolerance && power <= balance_tolerance && volts <= law_tolerance;
}

}  // namespace voltfall
