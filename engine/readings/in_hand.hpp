// What an ohmmeter measures of a part that is off its plug or out of its socket.
#pragma once

#include <optional>
#include <vector>

#include "engine/solve/state.hpp"

namespace voltfall {

/// Two pins of a part in the hand.
struct InHand {
    JointId red;
    JointId black;
    std::optional<std::size_t> position;  ///< of a switch: the one it is set to
    BranchId contact;                     ///< the contact that is measured; invalid for a coil or winding
    bool rests_open{false};               ///< a contact where it stands open: closed only if it is welded or stuck
};

/// Taps of a pack, a relay's coil and its contacts at rest, a switch's contacts each in its first position that closes
/// it, a pressure switch at rest, anything else with two pins. Empty where the part can be neither unplugged nor
/// pulled, where [closed] forbids it, and for electronics.
std::vector<InHand> measured_in_hand(const Circuit& circuit, PartId part);

/// Is the part pulled from a socket rather than unplugged?
bool is_pulled_out(const Part& part);

/// The part, pulled or unplugged in that state, on whose pins both leads stand; nullopt where there is none.
std::optional<PartId> held_in_hand(const Circuit& circuit, const State& state, JointId red, JointId black);

/// The part that a branch is inside of, where an ohmmeter on its pins tells it from the wires and the plug; invalid for
/// anything else.
PartId part_in_hand(const Circuit& circuit, BranchId branch);

}  // namespace voltfall
