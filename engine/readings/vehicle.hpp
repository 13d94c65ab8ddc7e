// A vehicle on which tests are taken: its faults, and what has blown.
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/circuit/fault_mode.hpp"

namespace voltfall {

/// A fuse found open, and how long it took to open; a blown fuse's element tells by its look.
struct OpenedFuse {
    PartId part;
    double seconds{};
};

/// The vehicle as it stands: what is wrong with it and what has blown so far.
struct Vehicle {
    const Circuit* circuit{nullptr};
    std::vector<Fault> faults;
    std::vector<OpenedFuse> opened;
    std::vector<PartId> seen_whole{};  ///< fuses that somebody has looked at: what opened them since is in `opened`

    bool has_opened(PartId part) const;
    std::vector<PartId> opened_parts() const;
};

}  // namespace voltfall
