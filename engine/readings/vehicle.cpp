#include "engine/readings/vehicle.hpp"

#include <algorithm>

namespace voltfall {

bool Vehicle::has_opened(PartId part) const {
    return std::any_of(opened.begin(), opened.end(), [&](const OpenedFuse& fuse) { return fuse.part == part; });
}

std::vector<PartId> Vehicle::opened_parts() const {
    std::vector<PartId> parts;
    for (const OpenedFuse& fuse : opened) parts.push_back(fuse.part);
    return parts;
}

}  // namespace voltfall
