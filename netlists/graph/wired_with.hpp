// What hangs together by wires.
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Joints reached from one through nothing but wires, plugs and contacts, itself first; never through metal, battery
/// minus or a bus of the supply. Contacts of switches and relays count as closed. From one of those joints: nothing.
std::vector<JointId> wired_with(const Circuit& circuit, JointId joint);

}  // namespace voltfall
