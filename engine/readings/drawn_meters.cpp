// Instruments of a shop: how far each is off, drawn at random inside its maker's limits.
#include "engine/readings/random_numbers.hpp"
#include "engine/readings/technician.hpp"

namespace voltfall {

namespace {

/// Opens of joints that carry no plug can be seen less often than a burnt plug; one chance for all (ASSUMED).
constexpr double drawn_sight_share = 0.5;
constexpr double drawn_lead_ohms = 0.15;  // leads 0.1-0.2 ohm (UT33D manual p.7)

/// -1 to 1.
double signed_unit(std::uint64_t value) {
    return 2 * RandomNumbers(value).share() - 1;
}

}  // namespace

MeterErrors exact_meters() {
    return {};
}

MeterErrors drawn_meters(std::uint64_t seed) {
    MeterErrors errors;
    errors.volts_scale = signed_unit(seed ^ 0x11);
    errors.amps_scale = signed_unit(seed ^ 0x22);
    errors.amps_zero = signed_unit(seed ^ 0x33);
    errors.ohms_scale = signed_unit(seed ^ 0x44);
    errors.lead_ohms = drawn_lead_ohms;
    errors.noise = true;
    errors.sight_share = drawn_sight_share;
    errors.senses = drawn_senses(seed);
    errors.seed = seed;
    return errors;
}

}  // namespace voltfall
