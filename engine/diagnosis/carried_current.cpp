#include "engine/diagnosis/carried_current.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <variant>

#include "engine/solve/settled.hpp"

namespace voltfall {

namespace {

/// The branch that a poor or lost contact is in.
std::optional<BranchId> branch_of(const FaultMode& mode) {
    if (mode.fault_class != FaultClass::joint) return std::nullopt;
    for (const Change& change : mode.changes(mode.size ? mode.size->usual : 0, 0.5)) {
        if (const auto* more = std::get_if<AddOhms>(&change)) return more->branch;
        if (const auto* open = std::get_if<OpenBranch>(&change)) return open->branch;
    }
    return std::nullopt;
}

/// Amperes of a piece of copper are told by no solver; what flows on at its joints is.
double amps_at(const Settled& settled, BranchId branch) {
    const double own = settled.point.amps[branch.index];
    if (std::isfinite(own)) return std::abs(own);
    double most = 0;
    const NetworkBranch& at = settled.network.at(branch);
    for (std::size_t i = 0; i < settled.network.branches.size(); ++i) {
        const NetworkBranch& other = settled.network.branches[i];
        const bool touches = other.a == at.a || other.b == at.a || other.a == at.b || other.b == at.b;
        if (touches && std::isfinite(settled.point.amps[i])) most = std::max(most, std::abs(settled.point.amps[i]));
    }
    return most;
}

}  // namespace

std::vector<double> carried_amps(Simulator& simulator, const Circuit& circuit) {
    std::vector<double> carried(circuit.modes.size(), 0.0);
    const std::vector<State> states = default_states(circuit);
    std::vector<SettleCase> cases;
    for (const State& state : states) cases.push_back({&state, {}, {}});
    for (const SettleResult& settled : settle_all(simulator, circuit, cases)) {
        if (!settled) continue;
        for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
            const auto branch = branch_of(*circuit.modes[i]);
            if (branch) carried[i] = std::max(carried[i], amps_at(*settled, *branch));
        }
    }
    return carried;
}

}  // namespace voltfall
