// A circuit settled in a state with a fault, its volts, and what the simulator of record has to say to them.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::test {

inline Settled settled_at(const Circuit& circuit, const std::string& label, const std::string& fault = {}) {
    std::vector<Fault> faults;
    if (!fault.empty()) faults = faults_named(circuit, fault);
    SettleResult settled = settle(solver(), circuit, state_named(circuit, label), faults);
    REQUIRE(settled);
    return *std::move(settled);
}

inline double volts_at(const Circuit& circuit, const Settled& settled, const std::string& joint) {
    const JointId id = circuit.find_joint(joint);
    INFO(joint);
    REQUIRE(id.valid());
    return settled.point.volts[id.index];
}

/// Greatest difference to the simulator of record at any joint that holds a voltage, volts.
inline double worst_difference(const Settled& settled) {
    const SolveResult record = ngspice().solve(settled.network);
    REQUIRE(record);
    double worst = 0;
    for (std::uint32_t joint = 0; joint < settled.network.joints; ++joint) {
        const bool weak = std::find(settled.weak.begin(), settled.weak.end(), JointId{joint}) != settled.weak.end();
        if (weak || settled.floats({joint})) continue;
        worst = std::max(worst, std::abs(record->volts[joint] - settled.point.volts[joint]));
    }
    return worst;
}

}  // namespace voltfall::test
