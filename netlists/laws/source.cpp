#include "netlists/laws/source.hpp"

#include <algorithm>
#include <cmath>

#include "netlists/laws/element_writer.hpp"

namespace voltfall {

namespace {

/// In the linearised circuit a source without ohms has this many, so that every branch has a conductance; far below any
/// contact.
constexpr double least_slope_ohms = 1e-7;

double ohms_of(const Source& law, const BranchState& state) {
    return state.open ? open_ohms : std::min(law.ohms + state.added_ohms, open_ohms);
}

bool is_stiff(const Source& law, const BranchState& state) {
    return ohms_of(law, state) < copper_ohms;
}

}  // namespace

double Source::emf(BatteryState battery, double added_ohms) const {
    switch (battery) {
        case BatteryState::resting:
            return volts;
        case BatteryState::charging:
            return charging_volts;
        case BatteryState::cranking:
            return starter_ohms > 0 ? volts * starter_ohms / (starter_ohms + ohms + added_ohms) : volts;
    }
    return volts;
}

std::optional<double> Source::tie(const BranchState& state, BatteryState battery) const {
    return is_stiff(*this, state) ? std::optional(emf(battery, state.added_ohms)) : std::nullopt;
}

std::optional<StraightLine> Source::line(const BranchState& state, BatteryState battery) const {
    return StraightLine{std::max(ohms_of(*this, state), copper_ohms), emf(battery, state.added_ohms)};
}

Flow Source::flow(const BranchState& state, double across, double&) const {
    const double slope = 1 / std::max(ohms_of(*this, state), copper_ohms);
    return {(across - volts) * slope, slope};
}

double Source::first_volts(const BranchState&, double) const {
    return 0;
}

double Source::least_slope(const BranchState& state) const {
    return 1 / std::max(ohms_of(*this, state), copper_ohms);
}

double Source::shaft_speed(double) const {
    return 0;
}

Power Source::power(const BranchState& state, BatteryState battery, const BranchPoint& point) const {
    const double spent = is_stiff(*this, state) ? 0.0 : point.amps * point.amps * ohms_of(*this, state);
    return {-emf(battery, state.added_ohms) * point.amps, spent};
}

double Source::slope_ohms(const BranchState& state, const BranchPoint&) const {
    return std::max(ohms_of(*this, state), least_slope_ohms);
}

double Source::tolerant_ohms(const BranchState& state) const {
    return state.open ? 0 : ohms;
}

void Source::write(ElementWriter& deck, const BranchState& state, BatteryState battery) const {
    const bool stiff = is_stiff(*this, state);
    const ElementNode plus = stiff ? first_end : own_node("x");
    if (!stiff) deck.resistor("r", first_end, plus, ohms_of(*this, state));
    deck.voltage("v", plus, second_end, emf(battery, state.added_ohms));
    deck.carries_current("v");
}

}  // namespace voltfall
