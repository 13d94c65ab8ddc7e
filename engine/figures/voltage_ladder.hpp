// Where the volts fall: the joints along a load's way from battery plus to battery minus, and the volts at each.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// The volts of one case at each rung; nullopt where the joint is cut off.
struct LadderLine {
    std::string name;  ///< "sound", "C101.4 resistance 0.3ohm"
    std::vector<std::optional<double>> volts;
};

struct VoltageLadder {
    std::string load;
    std::string state;
    std::vector<std::string> rungs;               ///< joints in the order of the current, to B1-
    std::size_t load_after{0};                    ///< the load lies between this rung and the next
    std::vector<LadderLine> lines;                ///< the sound circuit first, then the cases asked for
    std::vector<std::optional<double>> measured;  ///< by rung, as a reading in that state says it

    bool empty() const { return rungs.size() < 2; }
};

/// A fault with the name that it is shown by.
struct NamedCase {
    std::string name;
    std::vector<Fault> faults;
};

/// The joints that a probe may touch along the load's way, in the order of the current; empty where it has none.
std::vector<JointId> joints_along(const Settled& settled, PartId load);

/// The ladder of a load in one state; empty where the load has no way in it. Readings to B1- in the same position are
/// put at their rung. A case without a solution is left out.
VoltageLadder voltage_ladder(Simulator& simulator, const Circuit& circuit, const State& state, PartId load,
                             std::span<const NamedCase> cases, const std::vector<Reading>& readings);

}  // namespace voltfall
