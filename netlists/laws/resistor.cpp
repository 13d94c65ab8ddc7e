#include "netlists/laws/resistor.hpp"

#include <algorithm>

#include "netlists/laws/element_writer.hpp"

namespace voltfall {

namespace {

double ohms_of(const Resistor& law, const BranchState& state) {
    return state.open ? open_ohms : std::min(law.ohms + state.added_ohms, open_ohms);
}

}  // namespace

std::optional<double> Resistor::tie(const BranchState& state, BatteryState) const {
    if (!state.open && ohms + state.added_ohms < copper_ohms) return 0.0;
    return std::nullopt;
}

std::optional<StraightLine> Resistor::line(const BranchState& state, BatteryState) const {
    return StraightLine{ohms_of(*this, state), 0};
}

Flow Resistor::flow(const BranchState& state, double volts, double&) const {
    const double slope = 1 / ohms_of(*this, state);
    return {volts * slope, slope};
}

double Resistor::first_volts(const BranchState&, double) const {
    return 0;
}

double Resistor::least_slope(const BranchState& state) const {
    return 1 / ohms_of(*this, state);
}

double Resistor::shaft_speed(double) const {
    return 0;
}

Power Resistor::power(const BranchState& state, BatteryState, const BranchPoint& point) const {
    return {0, point.volts * point.volts / ohms_of(*this, state)};
}

double Resistor::slope_ohms(const BranchState& state, const BranchPoint&) const {
    return ohms_of(*this, state);
}

double Resistor::tolerant_ohms(const BranchState& state) const {
    return state.open ? 0 : ohms;
}

void Resistor::write(ElementWriter& deck, const BranchState& state, BatteryState battery) const {
    if (tie(state, battery)) return;
    deck.resistor("r", first_end, second_end, ohms_of(*this, state));
}

std::optional<double> Contact::tie(const BranchState& state, BatteryState battery) const {
    return closed ? as_resistor().tie(state, battery) : std::nullopt;
}
std::optional<StraightLine> Contact::line(const BranchState& state, BatteryState battery) const {
    return as_resistor().line(state, battery);
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
