// Which terminal of a load its feed comes to, and which one its current leaves by.
#pragma once

#include <optional>
#include <string>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// The terminals of a load.
struct LoadSides {
    std::string feed;  ///< towards battery plus
    std::string back;  ///< towards battery minus
};

/// The sides of a load by what is drawn, whatever stands open or closed: one terminal leads to battery plus through
/// fewer contacts that move than to battery minus, the other the other way round; through no other load and no coil of
/// a relay. Returns nullopt where the drawing does not tell: more than two terminals, a bridge of relays, a load
/// between two others.
std::optional<LoadSides> sides_of_load(const Circuit& circuit, PartId load);

/// The only wire at a part's terminal; invalid where none or several end there.
WireId only_wire_at(const Circuit& circuit, PartId part, const std::string& terminal);

}  // namespace voltfall
