// The sections of a circuit that name parts: [parts] and [plugs].
#pragma once

#include "netlists/files/circuit_draft.hpp"

namespace voltfall {

void read_parts(CircuitDraft& draft, const TomlSection& section);
/// After the parts.
void read_plugs(CircuitDraft& draft, const TomlSection& section);

}  // namespace voltfall
