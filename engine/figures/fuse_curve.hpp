// A fuse's time-current band beside what its wires bear, the current that runs and the current of a fault.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/heat/bodies.hpp"

namespace voltfall {

/// The currents at which a wire reaches its limit in a time, or a fuse opens in it.
struct TimeCurrent {
    double seconds{};
    double amps{};
};

struct FuseCurve {
    std::string fuse;
    std::string type;
    double rating{};
    struct Opening {
        double amps{};
        std::optional<double> earliest;
        std::optional<double> typical;
        std::optional<double> latest;
    };
    std::vector<Opening> openings;  ///< currents rising; from 100 % of the rating to a hard short
    struct WireLimit {
        std::string wire;
        std::vector<TimeCurrent> bears;  ///< times rising, currents falling
    };
    std::vector<WireLimit> wires;   ///< those that carry what the fuse carries, one of each size
    std::optional<double> running;  ///< amperes of the sound circuit in the position with most
    std::string running_in;         ///< that position
    std::optional<double> fault;    ///< amperes with the fault in the position with most, just after it is set
    std::string fault_in;
    std::optional<double> fault_opens;  ///< seconds until a usual fuse opens then; nothing: never
};

/// Every fuse of a known type. `faults` may be empty.
std::vector<FuseCurve> fuse_curves(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults);

}  // namespace voltfall
