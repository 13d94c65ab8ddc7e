#include "engine/readings/senses.hpp"

#include <cmath>
#include <limits>

#include "engine/readings/random_numbers.hpp"

namespace voltfall {

namespace {

constexpr double light_per_watts = 2.4;
constexpr double watts_per_volts = 1.6;
/// A shaft below this turns so slowly that nobody calls it running, rpm (ASSUMED).
constexpr double hardly_turns_rpm = 60;
/// A heater, or a lamp that lights a room, is missed like a test lamp; below this share of its watts it is cold
/// (ASSUMED).
constexpr double cold_below = 0.05;
/// A heater that has less than this share of its watts feels weak (ASSUMED).
constexpr double weak_below = 0.6;

double between(double low, double high, double share) {
    return low + (high - low) * share;
}

std::string motor_word(const Senses& senses, double rpm, double sound_rpm) {
    const bool turns = rpm > hardly_turns_rpm;
    const bool should = sound_rpm > hardly_turns_rpm;
    if (!turns || !should) return turns ? "runs" : "dead";
    const double change = fan_noise_change(rpm, sound_rpm);
    if (change < -senses.louder_db) return "slow";
    return change > senses.louder_db ? "fast" : "normal";
}

std::string lamp_beside(const Senses& senses, double volts, double sound_volts) {
    // Millivolts light nothing, however alike they are.
    constexpr double least_volts = 2;
    const double most = std::max({volts, sound_volts, least_volts});
    const double light = lamp_light(volts / most);
    const double should = lamp_light(sound_volts / most);
    const bool lit = light > senses.dark_below;
    const bool should_be_lit = should > senses.dark_below;
    if (!lit) return "dead";
    if (!should_be_lit) return "normal";
    return light < senses.dim_below * should ? "weak" : "normal";
}

/// A burnt-out lamp has all of its volts and no light.
double lighting_volts(const LoadState& lamp) {
    constexpr double least_amps = 1e-4;
    return std::abs(lamp.amps) < least_amps ? 0 : std::abs(lamp.volts);
}

std::string heater_word(double watts, double sound_watts) {
    constexpr double least_watts = 1;
    const double most = std::max({watts, sound_watts, least_watts});
    const bool warm = watts > cold_below * most;
    const bool should = sound_watts > cold_below * most;
    if (!warm || !should) return warm ? "runs" : "dead";
    return watts < weak_below * sound_watts ? "weak" : "normal";
}

}  // namespace

Senses usual_senses() {
    return {};
}

Senses drawn_senses(std::uint64_t seed) {
    Senses senses;
    RandomNumbers random(seed);
    senses.louder_db = between(3, 5, random.share());
    senses.dim_below = between(0.2, 0.5, random.share());
    return senses;
}

double fan_noise_change(double rpm, double sound_rpm) {
    if (!(rpm > 0)) return -std::numeric_limits<double>::infinity();
    return 50 * std::log10(rpm / sound_rpm);
}

double lamp_light(double share_of_volts) {
    return std::pow(std::abs(share_of_volts), watts_per_volts * light_per_watts);
}

std::string load_word(const Senses& senses, LoadKind kind, const LoadState& now, const LoadState& sound) {
    // What does a little where it should do nothing is told by itself: there is no sound one to hold it against.
    if (row_of(now.seen).vigour == Vigour::faint) return "glows";
    switch (kind) {
        case LoadKind::motor:
            return motor_word(senses, std::abs(now.rpm.value_or(0)), std::abs(sound.rpm.value_or(0)));
        case LoadKind::lamp:
            return lamp_beside(senses, lighting_volts(now), lighting_volts(sound));
        case LoadKind::none:
        case LoadKind::heater:
            return heater_word(std::abs(now.volts * now.amps), std::abs(sound.volts * sound.amps));
        case LoadKind::clutch:
            // It pulls with a click, or it does not.
            break;
    }
    return row_of(now.seen).vigour == Vigour::none ? "dead" : std::string(word_of(now.seen));
}

std::string lamp_word(const Senses& senses, double volts, double full) {
    const double light = lamp_light(volts / full);
    if (light < senses.dark_below) return "dark";
    return light < senses.dim_below ? "dim" : "bright";
}

}  // namespace voltfall
