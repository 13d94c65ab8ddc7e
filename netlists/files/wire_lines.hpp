// [wires]: `541 = "F7.2 > C101.4  6mm2 RD 0.9m"`, one piece of wire or a chain of them.
#pragma once

#include <optional>

#include "netlists/files/circuit_draft.hpp"

namespace voltfall {

/// Reads the wires, after parts and plugs. Ends name parts and terminals (a bus: no part, and its word as terminal);
/// joints and branches are laid later.
void read_wires(CircuitDraft& draft, const TomlSection& section);

/// Reads where a wire ends. Nothing when the part or terminal is unknown, which is reported unless the name is lost.
std::optional<WireEnd> read_wire_end(CircuitDraft& draft, const std::string& typed, const SourcePlace& place);

}  // namespace voltfall
