// Follows one case through time: what `run_aftermath` and `knife_edge` are made of.
#pragma once

#include "engine/heat/aftermath.hpp"

namespace voltfall {

struct HeatCase {
    Simulator& simulator;
    const HeatModel& model;
    const State& state;
    std::span<const Fault> faults;
};

/// As `run_aftermath`; in place of `edge_fuse`, where that is a part, stands the quickest or slowest of its type.
AftermathResult follow(const HeatCase& of, double seconds, std::span<const PartId> opened, HeatReport report,
                       PartId edge_fuse = {}, Edge edge = Edge::typical);

}  // namespace voltfall
