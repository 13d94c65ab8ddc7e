// The temperatures of a followed case, as they are told.
#pragma once

#include <span>

#include "engine/heat/aftermath.hpp"

namespace voltfall {

/// Temperatures by body of the model, °C: at the end, and the most of all the time.
struct BodyTemperatures {
    std::span<const double> celsius;
    std::span<const double> hottest;
};

/// Fills `Aftermath::bodies`, the warmest first by its limit; of a wire its warmer half. `healthy` is the same state
/// without faults, or has no solution.
void report_bodies(const HeatModel& model, const SettleResult& healthy, const BodyTemperatures& temperatures,
                   Aftermath& aftermath);

}  // namespace voltfall
