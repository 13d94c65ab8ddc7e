// Parts that need no name because there is one of them.
#pragma once

#include <cstdint>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// The only part of the circuit that `is(part)` holds of; not valid where it holds of none or of several.
template <class Is>
PartId only_part(const Circuit& circuit, const Is& is) {
    PartId only;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        if (!is(circuit.parts[i])) continue;
        if (only.valid()) return {};
        only = {i};
    }
    return only;
}

/// The only part of that kind.
inline PartId only_of_kind(const Circuit& circuit, const Kind& kind) {
    return only_part(circuit, [&](const Part& part) { return part.kind == &kind; });
}

/// The only relay with a coil.
inline PartId only_relay(const Circuit& circuit) {
    return only_part(circuit, [](const Part& part) { return part.relay.has_value(); });
}

}  // namespace voltfall
