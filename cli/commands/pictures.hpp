// The pictures that several commands draw.
#pragma once

#include <vector>

#include "cli/commands/console.hpp"
#include "cli/pictures/picture.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// The wiring of the sound circuit in the position with most current.
tl::expected<Picture, SolveFailure> sound_wiring(const Console& console, const Circuit& circuit);

/// Every fuse of a known type beside its wires.
std::vector<Picture> fuse_pictures(const Console& console, const Circuit& circuit);

/// Wiring, the ladder of each load that works in the state, and the speeds, with these faults.
tl::expected<std::vector<Picture>, SolveFailure> case_pictures(const Console& console, const Circuit& circuit,
                                                               const std::vector<Fault>& faults, const State& state);

}  // namespace voltfall
