// The published data that a fuse of a circuit goes by.
#pragma once

#include "netlists/circuit/circuit.hpp"
#include "netlists/tables/fuses.hpp"

namespace voltfall {

/// The type of what opens by current; throws where its kind has given it a word that is no type's.
inline FuseType type_of(const FuseAction& fuse) {
    return fuse_type(fuse.type).value();
}

}  // namespace voltfall
