// What `whatif` tells of one settled circuit.
#pragma once

#include <string>
#include <vector>

#include "cli/views/whatif_view.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// The joints and wires to tell of; empty lists mean all.
struct PointChoice {
    std::vector<JointId> joints;
    std::vector<WireId> wires;
};

/// Figures of a settled circuit beside the healthy one in the same state (which may be the same).
CircuitFigures figures_of(const Settled& settled, const Settled& healthy, const PointChoice& choice);

/// The parts that a driver notices: motors, clutches, lamps, heaters.
std::vector<PartId> noticed_loads(const Circuit& circuit);

}  // namespace voltfall
