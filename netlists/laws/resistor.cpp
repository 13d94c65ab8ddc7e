#include "netlists/laws/resistor.hpp"

#include "netlists/laws/element_writer.hpp"

namespace voltfall {

Flow Resistor::flow(const BranchState& state, double volts, double&) const {
    const double slope = 1 / ohms_in(state);
    return {volts * slope, slope};
}

double Resistor::first_volts(const BranchState&, double) const {
    return 0;
}

double Resistor::least_slope(const BranchState& state) const {
    return 1 / ohms_in(state);
}

double Resistor::shaft_speed(double) const {
    return 0;
}

Power Resistor::power(const BranchState& state, BatteryState, const BranchPoint& point) const {
    return {0, point.volts * point.volts / ohms_in(state)};
}

double Resistor::slope_ohms(const BranchState& state, const BranchPoint&) const {
    return ohms_in(state);
}

double Resistor::tolerant_ohms(const BranchState& state) const {
    return state.open ? 0 : ohms;
}

void Resistor::write(ElementWriter& deck, const BranchState& state, BatteryState battery) const {
    if (tie(state, battery)) return;
    deck.resistor("r", first_end, second_end, ohms_in(state));
}

Flow Contact::flow(const BranchState& state, double volts, double& memory) const {
    return as_resistor().flow(state, volts, memory);
}
double Contact::first_volts(const BranchState&, double) const {
    return 0;
}
double Contact::least_slope(const BranchState& state) const {
    return as_resistor().least_slope(state);
}
double Contact::shaft_speed(double) const {
    return 0;
}
Power Contact::power(const BranchState& state, BatteryState battery, const BranchPoint& point) const {
    return as_resistor().power(state, battery, point);
}
double Contact::slope_ohms(const BranchState& state, const BranchPoint& point) const {
    return as_resistor().slope_ohms(state, point);
}
double Contact::tolerant_ohms(const BranchState& state) const {
    return state.open || !closed ? 0 : ohms;
}
void Contact::write(ElementWriter& deck, const BranchState& state, BatteryState battery) const {
    as_resistor().write(deck, state, battery);
}

}  // namespace voltfall
