#include "engine/heat/wire_heat.hpp"

#include <algorithm>

#include "engine/heat/heat_values.hpp"
#include "engine/heat/protection.hpp"
#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

LinearHeat copper_alone(const Body& wire, double amps) {
    const double capacity = copper_joule_per_metre_mm2 * wire.area_mm2;
    return heat_of_wire(amps, copper_ohm_per_metre(wire.area_mm2), capacity, 0, wire.ambient);
}

LinearHeat insulated_in_air(const Body& wire, double amps) {
    return heat_of_wire(amps, wire.ohms_metre, wire.capacity, wire.still_air, wire.ambient);
}

}  // namespace

double wire_limit_for(const Circuit& circuit, const Wire& wire, std::optional<double> seconds) {
    constexpr double hour = 3600;
    const double steady = wire_class(circuit, wire);
    if (!seconds || *seconds > 240 * hour) return steady;
    if (*seconds > 6 * hour) return steady + heat_value(circuit, "wire_short_term_margin");
    const double overload = steady + heat_value(circuit, "wire_overload_margin");
    if (*seconds > short_circuit_seconds) return overload;
    return std::max(overload, heat_value(circuit, "wire_short_limit"));
}

double wire_temperature_after(const Body& wire, double amps, double from_celsius, double seconds) {
    const LinearHeat copper = copper_alone(wire, amps);
    if (seconds <= short_circuit_seconds) return temperature_after(copper, from_celsius, seconds);
    const LinearHeat air = insulated_in_air(wire, amps);
    const double late = temperature_after(air, from_celsius, seconds);
    const bool warms = air.rise + air.feedback * from_celsius > 0;
    return warms ? std::max(late, temperature_after(copper, from_celsius, short_circuit_seconds)) : late;
}

std::optional<double> wire_seconds_to_reach(const Body& wire, double amps, double from_celsius, double to_celsius) {
    const auto in_short = seconds_to_reach(copper_alone(wire, amps), from_celsius, to_celsius);
    if (in_short && *in_short <= short_circuit_seconds) return in_short;
    return seconds_to_reach(insulated_in_air(wire, amps), from_celsius, to_celsius);
}

}  // namespace voltfall
