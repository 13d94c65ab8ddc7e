// What has blown, opened or burnt: parts that fail because of something else.
#pragma once

#include <vector>

#include "engine/proof/proof_case.hpp"

namespace voltfall {

enum class VictimSort {
    fuse,     ///< found blown, or renewed
    limiter,  ///< a resistor pack whose limiter has opened, or that was renewed
    burnt,    ///< seen burnt, or failed again after it was renewed
};

struct Victim {
    PartId part;
    VictimSort sort{VictimSort::fuse};
    bool tired{false};  ///< a fuse with a hairline crack: old age, not overload
};

/// In the order of the circuit's parts. Connectors, splices and wires are none: their own ohms burn them.
std::vector<Victim> victims_of(const ProofCase& of);

}  // namespace voltfall
