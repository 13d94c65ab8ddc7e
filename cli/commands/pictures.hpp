// The pictures that several commands draw.
#pragma once

#include <vector>

#include "cli/commands/console.hpp"
#include "cli/pictures/picture.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// The wiring of the sound circuit in the position with most current; circuits that share only supply and metal apart.
tl::expected<std::vector<Picture>, SolveFailure> sound_wiring(const Console& console, const Circuit& circuit);

/// Every fuse of a known type beside its wires.
std::vector<Picture> fuse_pictures(const Console& console, const Circuit& circuit);

/// Wiring, ladders and speeds with these faults: of what a fault sits in and what it changes; sound, of everything that
/// works in the state, the ladders of those that draw most.
tl::expected<std::vector<Picture>, SolveFailure> case_pictures(const Console& console, const Circuit& circuit,
                                                               const std::vector<Fault>& faults, const State& state);

}  // namespace voltfall
