// A solved branch circuit with answers by name, for published circuits.
#pragma once

#include <string>

#include "engine/ngspice/ngspice_session.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::test {

/// Solved network with answers by name.
class Solved {
public:
    Solved(BranchCircuit& made, const Network& network, Shunts shunts = Shunts::idle) : made_(made), network_(network) {
        NgspiceSession& session = NgspiceSession::instance();
        const SolveResult point =
            shunts == Shunts::idle ? session.solve(network) : session.solve_without_shunts(network);
        REQUIRE(point);
        point_ = *point;
    }

    double volts(const std::string& joint) const { return point_.volts[made_.joint(joint).index]; }
    double volts(const std::string& red, const std::string& black) const { return volts(red) - volts(black); }
    double amps(BranchId branch) const { return point_.amps[branch.index]; }
    double across(BranchId branch) const {
        const NetworkBranch& b = network_.at(branch);
        return point_.volts[b.a.index] - point_.volts[b.b.index];
    }

private:
    BranchCircuit& made_;
    Network network_;
    OperatingPoint point_;
};

inline Approx within(double value, double share) {
    return Approx(value).epsilon(share);
}

/// A short put across a branch: one piece of copper.
inline Network shorted(const Network& network, BranchId branch) {
    Network with = network;
    with.at(branch).law = Resistor{0};
    return with;
}

inline Network opened(const Network& network, BranchId branch) {
    Network with = network;
    with.at(branch).open = true;
    return with;
}

}  // namespace voltfall::test
