// Faults that nobody need find: all works as it should with them.
#pragma once

#include <span>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// What the loads of a circuit do with a fault, held against what they do without, in every default state.
class Harmless {
public:
    Harmless(Simulator& simulator, const Circuit& circuit);

    /// Do all loads go as in the sound circuit, with no fuse open? False where a state cannot be solved.
    bool is(std::span<const Fault> faults) const;

private:
    Simulator& simulator_;
    const Circuit& circuit_;
    std::vector<PartId> loads_;
    std::vector<State> states_;
    std::vector<SettleResult> sound_;  ///< by state
};

}  // namespace voltfall
