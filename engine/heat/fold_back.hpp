// What becomes of a part that has reached the temperature at which something in it acts.
#pragma once

#include <functional>
#include <vector>

#include "engine/heat/bodies.hpp"

namespace voltfall {

/// Settles the case as it stands with one more fault.
using SettleWith = std::function<SettleResult(const Fault& more)>;

/// The faults of a part whose limit is reached. A pack's limiters are open. A linear stage stands at its fold-back
/// temperature: ohms in series with it are chosen with which it makes no more heat than the air then carries off, its
/// fan slower than before. They are the least such ohms within the mode's range, as electronics give away no more than
/// they must, and its upper end where even that is too hot or cannot be solved. In truth a stage gives less and more
/// again within seconds: what is told is where that settles (ASSUMED).
std::vector<Fault> faults_at_limit(const HeatModel& model, PartId part, const SettleWith& settle_with);

}  // namespace voltfall
