#include "netlists/laws/stage.hpp"

#include <algorithm>
#include <cmath>

#include "netlists/laws/element_writer.hpp"

namespace voltfall {

double Stage::ohms_in(const BranchState& state) const {
    if (state.open || std::abs(siemens) < 1 / open_ohms) return open_ohms;
    return std::min(1 / siemens + state.added_ohms, open_ohms);
}

std::optional<StraightLine> Stage::line(const BranchState& state, BatteryState) const {
    return StraightLine{ohms_in(state), emf};
}

Flow Stage::flow(const BranchState& state, double volts, double&) const {
    const double slope = 1 / ohms_in(state);
    return {(volts - emf) * slope, slope};
}

Power Stage::power(const BranchState& state, BatteryState, const BranchPoint& point) const {
    return {-emf * point.amps, point.amps * point.amps * ohms_in(state)};
}

void Stage::write(ElementWriter& deck, const BranchState& state, BatteryState) const {
    deck.signed_resistor("r", first_end, own_node("y"), ohms_in(state));
    deck.voltage("v", own_node("y"), second_end, emf);
}

}  // namespace voltfall
