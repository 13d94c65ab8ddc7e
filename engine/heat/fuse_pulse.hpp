// What a current over time does to a fuse.
#pragma once

#include <optional>

#include "engine/heat/waveform.hpp"
#include "netlists/tables/fuse_model.hpp"

namespace voltfall {

/// A pulse as its fuse has it, from cold at 25 °C.
struct FusePulse {
    double peak_amps{};
    double peak_seconds{};
    double pulse_i2t{};  ///< A2s above the last current: the integral of I^2 - Iend^2 where it is positive
    double peak_heat{};  ///< share of the heat that melts the element; 1 when it opens
    std::optional<double> opens_after;  ///< seconds; interpolated within the step
    double margin() const { return 1 - peak_heat; }
};

/// Follows the heat of the element through the waveform (amperes over seconds): both stages of the model, exact for an
/// I^2 that goes straight between the points. The waveform counts up to the moment of opening.
FusePulse fuse_pulse(const FuseModel& model, const Waveform& amps);
/// The same for the typical fuse of a type.
FusePulse fuse_pulse(FuseType type, double rating_amps, const Waveform& amps);

}  // namespace voltfall
