#include "engine/heat/fuse_pulse.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

/// Halvings of a step in which the element melts: 2^-50 of a step is below the rounding of its time.
constexpr int halvings = 50;

/// One stage of the element's heat while the square of the current goes straight from one value to another.
double stage_after(double heat, double share, double tau, double drive, double slope, double when) {
    const double settled = -std::expm1(-when / tau);
    return heat + (share * drive - heat) * settled + share * slope * (when - tau * settled);
}

/// The two parts of a fuse's heat through a waveform.
class ElementHeat {
public:
    explicit ElementHeat(const FuseModel& model) : model_(model) {}

    double now() const { return heat_.total(); }

    /// The heat after a time in which the square of the current goes from the one to the other at `seconds`.
    FuseHeat after(double when, double seconds, double from_squared, double to_squared) const {
        if (model_.link) {
            // The mean of the square over the step: waveforms have many points to one time constant of a link.
            const double mean = from_squared + (to_squared - from_squared) * when / seconds / 2;
            return heat_after(model_, heat_, std::sqrt(mean), when);
        }
        const double melts_at = model_.minimum_amps * model_.minimum_amps;
        const double drive = from_squared / melts_at;
        const double slope = (to_squared - from_squared) / melts_at / seconds;
        const double share = model_.slow_share;
        return {stage_after(heat_.fast, 1 - share, model_.fast_seconds, drive, slope, when),
                stage_after(heat_.slow, share, model_.slow_seconds, drive, slope, when)};
    }

    void set(const FuseHeat& heat) { heat_ = heat; }

private:
    FuseModel model_;
    FuseHeat heat_;
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
        (heat.after(middle, seconds, from_squared, to_squared).total() < 1 ? whole : molten) = middle;
    }
    return molten;
}

}  // namespace

FusePulse fuse_pulse(FuseType type, double rating_amps, const Waveform& amps) {
    return fuse_pulse(fuse_model(type, rating_amps), amps);
}

FusePulse fuse_pulse(const FuseModel& model, const Waveform& amps) {
    FusePulse pulse;
    if (amps.values.empty()) return pulse;
    const std::size_t peak = amps.peak();
    pulse.peak_amps = std::abs(amps.values[peak]);
    pulse.peak_seconds = amps.seconds[peak];
    const double running = square(amps.values.back());
    ElementHeat heat(model);
    for (std::size_t i = 1; i < amps.values.size() && !pulse.opens_after; ++i) {
        const double seconds = amps.seconds[i] - amps.seconds[i - 1];
        if (!(seconds > 0)) continue;
        const double from = square(amps.values[i - 1]);
        const double to = square(amps.values[i]);
        const FuseHeat then = heat.after(seconds, seconds, from, to);
        if (then.total() >= 1) pulse.opens_after = amps.seconds[i - 1] + melts_within(heat, seconds, from, to);
        heat.set(then);
        pulse.peak_heat = std::max(pulse.peak_heat, std::min(heat.now(), 1.0));
        pulse.pulse_i2t += above(from, to, running, seconds);
    }
    return pulse;
}

}  // namespace voltfall
