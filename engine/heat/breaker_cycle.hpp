// A breaker that goes on opening and closing for as long as the current flows.
#pragma once

#include "engine/heat/bodies.hpp"
#include "netlists/tables/fuse_model.hpp"

namespace voltfall {

/// The case while the breaker is closed, and for which share of the time it is. Its cycles are far shorter than what
/// warms up behind it, so that bodies have the mean heat of both.
struct BreakerCycle {
    PartId breaker;
    Settled closed;
    double share{};

    /// Sets `share` from the current that opens the breaker: it opens at its full heat and closes at a share of it
    /// (`breaker_recloses`); 1 where the current no longer opens it.
    void choose_share(const FuseModel& model);

    LinearHeat heat(const HeatModel& model, const Body& body, const Settled& open) const;
    double watts(const HeatModel& model, const Body& body, const Settled& open) const;
};

}  // namespace voltfall
