#include "engine/heat/fuse_pulse.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

/// Halvings of a step in which the element melts: 2^-50 of a step is below the rounding of its time.
constexpr int halvings = 50;

/// The fuse element's heat, 0 cold and 1 melting. Another thermal model takes this class's place.
class ElementHeat {
public:
    ElementHeat(FuseType type, double rating_amps)
        : tau_(fuse_tau_seconds(type, rating_amps)), least_amps_(fuse_minimum_opening_amps(type, rating_amps)) {}

    double now() const { return heat_; }

    /// The heat after a time in which the square of the current goes from the one to the other at `seconds`.
    double after(double when, double seconds, double from_squared, double to_squared) const {
        const double melts_at = least_amps_ * least_amps_;
        const double drive = from_squared / melts_at;
        const double slope = (to_squared - from_squared) / melts_at / seconds;
        const double settled = -std::expm1(-when / tau_);
        return heat_ + (drive - heat_) * settled + slope * (when - tau_ * settled);
    }

    void set(double heat) { heat_ = heat; }

private:
    double tau_;
    double least_amps_;
    double heat_{0};
};

double square(double value) {
    return value * value;
}

/// Integral over a step of what a straight-going I^2 has above the level.
double above(double from_squared, double to_squared, double level, double seconds) {
    const double high = std::max(from_squared, to_squared) - level;
    const double low = std::min(from_squared, to_squared) - level;
    if (high <= 0) return 0;
    return low >= 0 ? seconds * (high + low) / 2 : seconds * high / 2 * high / (high - low);
}

/// Seconds into the step at which the element melts; it is whole at the beginning and not at the end.
double melts_within(const ElementHeat& heat, double seconds, double from_squared, double to_squared) {
    double whole = 0;
    double molten = seconds;
    for (int i = 0; i < halvings; ++i) {
        const double middle = (whole + molten) / 2;
        (heat.after(middle, seconds, from_squared, to_squared) < 1 ? whole : molten) = middle;
    }
    return molten;
}

}  // namespace

FusePulse fuse_pulse(FuseType type, double rating_amps, const Waveform& amps) {
    FusePulse pulse;
    if (amps.values.empty()) return pulse;
    const std::size_t peak = amps.peak();
    pulse.peak_amps = std::abs(amps.values[peak]);
    pulse.peak_seconds = amps.seconds[peak];
    const double running = square(amps.values.back());
    ElementHeat heat(type, rating_amps);
    for (std::size_t i = 1; i < amps.values.size() && !pulse.opens_after; ++i) {
        const double seconds = amps.seconds[i] - amps.seconds[i - 1];
        if (!(seconds > 0)) continue;
        const double from = square(amps.values[i - 1]);
        const double to = square(amps.values[i]);
        const double then = heat.after(seconds, seconds, from, to);
        if (then >= 1) pulse.opens_after = amps.seconds[i - 1] + melts_within(heat, seconds, from, to);
        heat.set(std::min(then, 1.0));
        pulse.peak_heat = std::max(pulse.peak_heat, heat.now());
        pulse.pulse_i2t += above(from, to, running, seconds);
    }
    return pulse;
}

}  // namespace voltfall
