// What a person notices at a vehicle, by ear and eye. A model of its own: what is told in a lesson or in the score does
// not come from the tables by which matching weighs words, so that neither checks itself.
#pragma once

#include <cstdint>
#include <string>

#include "engine/solve/settled.hpp"
#include "netlists/parts/kind.hpp"

namespace voltfall {

/// How much it takes until one person says so.
struct Senses {
    /// A blower sounds slow when it is quieter than it should be by this, and fast when it is louder, dB. Of changes of
    /// noise 3 dB are barely and 5 dB readily perceptible (California DOT, online noise training, module 1).
    double louder_db{4};
    /// A lamp is dim below this share of its light; eyes adapt, so that half is hardly missed and a fifth is (ASSUMED).
    double dim_below{0.35};
    /// A lamp, shaded by the hand, is dark below this share of its light (ASSUMED).
    double dark_below{0.001};
};

/// The person in the middle.
Senses usual_senses();
/// One person drawn at random: 3 to 5 dB, dim between a fifth and a half.
Senses drawn_senses(std::uint64_t seed);

/// The change of a fan's noise between two speeds, dB: 50 lg of their ratio (fan laws: sound power goes with the fifth
/// power of the speed). Minus infinity where it stands.
double fan_noise_change(double rpm, double sound_rpm);

/// The share of its light that a filament lamp gives at this share of its volts: candle power goes with watts to the
/// power 2.4 (Anderson, The fifteen watt tungsten lamp: 5 cp at 11.1 W, 15 cp at 17.5 W), and watts, the filament
/// getting hotter, with volts to the power 1.6 (ASSUMED).
double lamp_light(double share_of_volts);

/// What a person says of a load: "dead", "slow", "normal", "fast", "runs", "weak", "glows".
std::string load_word(const Senses& senses, LoadKind kind, const LoadState& now, const LoadState& sound);

/// What a person says of a test lamp at these volts: "bright", "dim", "dark"; `full` is what lights it fully.
std::string lamp_word(const Senses& senses, double volts, double full);

}  // namespace voltfall
