// Loads that electronics leave standing although their way is whole: the graph does not tell, a command does.
#pragma once

#include "engine/solve/simulator.hpp"
#include "netlists/graph/feeds.hpp"

namespace voltfall {

/// Takes out of each load's positions those in which a circuit with electronics, solved, gives it nothing.
/// Circuits without electronics are left as they were traced.
void leave_out_commanded_off(Feeds& feeds, Simulator& simulator, const Circuit& circuit);

}  // namespace voltfall
