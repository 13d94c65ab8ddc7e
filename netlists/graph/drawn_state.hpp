// Switches, key and relays set by the drawing alone, for questions that need no volts.
// The solver is the authority: what a relay really does with its volts is settled there.
#pragma once

#include <string_view>
#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// The position that stands for "not used": `off` where there is one, else the one the part rests in.
std::size_t off_position(const Part& part);

/// Moves the contacts of a switch, key or simple contact; held contacts stay.
void set_position(Network& network, PartId part, std::size_t position);

/// Moves the key (drawn or implied) to off, acc, on, run or start. A drawn key without that position takes the other of
/// on and run.
void set_key(Network& network, std::string_view word);

/// How the relays stand by the graph.
struct DrawnRelays {
    std::vector<bool> pulled;  ///< by part
    bool settled{true};        ///< false: a relay that takes its own feed away (it buzzes)
};

/// Sets every relay's contacts: a relay pulls when one side of its coil hangs on battery plus and the other on minus.
DrawnRelays set_relays(Network& network);

/// The circuit with every switch off, contacts at rest, the key on and the relays set.
Network network_at_rest(const Circuit& circuit);

}  // namespace voltfall
