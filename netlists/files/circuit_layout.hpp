// From parts and wires to joints and branches.
#pragma once

#include "netlists/files/circuit_draft.hpp"
#include "netlists/parts/layout.hpp"

namespace voltfall {

/// Lays the metal, the buses, every part and every wire. The draft has no mistakes and a battery.
void lay_circuit(CircuitDraft& draft, Layout& layout);

/// Lays the halves of a connector's cavities by the wires in them, with their contacts. Sets the ends of those wires.
void lay_connector(PartId connector, Layout& layout);
/// Lays a splice: its middle and a leg a wire, or a terminal where they are numbered.
void lay_splice(PartId splice, Layout& layout);
/// Lays the wires between joints that exist, two halves each; names the joints that have no name but by their wire.
void lay_wires(Layout& layout);

/// Declares the faults of wires, and the bridges between wires that run together and between neighbouring cavities.
/// After [care], which tells what runs together.
void declare_wire_modes(Layout& layout);

}  // namespace voltfall
