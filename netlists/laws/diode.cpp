#include "netlists/laws/diode.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "netlists/laws/element_writer.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// kT/q of the library at 27 °C with its constants of k and q (CODATA 2014), measured on its diode.
constexpr double library_thermal_volts = 1.38064852e-23 / 1.6021766208e-19 * 300.15;
/// The library's default conductance beside every junction, stated in our options too.
constexpr double junction_conductance = 1e-12;
/// Below this many e-folds of volts the library's cubic tail begins.
constexpr double tail_begins = -3;

double scale_of(const Diode& diode) {
    return diode.emission * diode_thermal_volts();
}

double junction_slope(const Diode& diode, double volts) {
    const double scale = scale_of(diode);
    if (volts >= tail_begins * scale) {
        return diode.saturation_amps * std::exp(volts / scale) / scale + junction_conductance;
    }
    const double ratio = 3 * scale / (volts * std::numbers::e);
    return 3 * diode.saturation_amps * ratio * ratio * ratio / volts + junction_conductance;
}

/// The volts beyond which a junction's current runs away from Newton's method (the usual critical voltage).
double critical_volts(const Diode& diode) {
    const double scale = scale_of(diode);
    return scale * std::log(scale / (std::numbers::sqrt2 * diode.saturation_amps));
}

/// The junction with ohms before it: Newton between brackets on the junction's own volts, which it leaves in `memory`.
Flow behind_ohms(const Diode& diode, double ohms, double volts, double& memory) {
    constexpr int most_steps = 200;
    double low = std::min(volts, 0.0) - 1;
    double high = std::max(volts, 0.0) + 1e-9;
    double at = std::min(volts, critical_volts(diode));
    double slope = 0;
    for (int step = 0; step < most_steps; ++step) {
        const double amps = diode_amps(diode, at);
        slope = junction_slope(diode, at);
        const double excess = at + amps * ohms - volts;
        (excess > 0 ? high : low) = at;
        double next = at - excess / (1 + slope * ohms);
        const bool done = std::abs(next - at) <= 1e-12 * std::abs(at) + 1e-18;
        if (!done && !(next > low && next < high)) next = (low + high) / 2;
        at = next;
        if (done) break;
    }
    memory = at;
    return {(volts - at) / ohms, slope / (1 + slope * ohms)};
}

}  // namespace

double diode_thermal_volts() {
    static const double volts = default_value("diode_vt");
    return volts;
}

double diode_amps(const Diode& diode, double volts) {
    const double scale = scale_of(diode);
    const double beside = junction_conductance * volts;
    if (volts >= tail_begins * scale) return diode.saturation_amps * std::expm1(volts / scale) + beside;
    const double ratio = 3 * scale / (volts * std::numbers::e);
    return -diode.saturation_amps * (1 + ratio * ratio * ratio) + beside;
}

std::optional<double> Diode::tie(const BranchState&, BatteryState) const {
    return std::nullopt;
}

std::optional<StraightLine> Diode::line(const BranchState& state, BatteryState) const {
    return state.open ? std::optional(StraightLine{open_ohms, 0}) : std::nullopt;
}

Flow Diode::flow(const BranchState& state, double volts, double& memory) const {
    if (state.open) return {volts / open_ohms, 1 / open_ohms};
    if (state.added_ohms >= copper_ohms) return behind_ohms(*this, state.added_ohms, volts, memory);
    const double scale = scale_of(*this);
    double wanted = volts;
    if (wanted > critical_volts(*this) && wanted - memory > 2 * scale) {
        wanted = memory > 0 ? memory + scale * std::log1p((wanted - memory) / scale) : scale * std::log(wanted / scale);
    }
    memory = wanted;
    const double slope = junction_slope(*this, wanted);
    constexpr double same_volts = 1e-12;
    return {diode_amps(*this, wanted) + slope * (volts - wanted), slope, std::abs(volts - wanted) > same_volts};
}

double Diode::first_volts(const BranchState&, double) const {
    return 0;
}

double Diode::least_slope(const BranchState& state) const {
    // A chord near the slope where it conducts a milliampere or so; a blocked one is corrected down from there.
    constexpr double usual_slope = 1e-3;
    return state.open ? 1 / open_ohms : usual_slope;
}

double Diode::shaft_speed(double) const {
    return 0;
}

Power Diode::power(const BranchState& state, BatteryState, const BranchPoint& point) const {
    if (state.open) return {0, point.volts * point.volts / open_ohms};
    // With ohms in series the junction has what they leave; without, the law says the current.
    if (state.added_ohms >= copper_ohms) return {0, point.volts * point.amps};
    return {0, point.volts * diode_amps(*this, point.volts)};
}

double Diode::slope_ohms(const BranchState& state, const BranchPoint& point) const {
    if (state.open) return open_ohms;
    const double thermal = diode_thermal_volts() * emission;
    static const double beside = default_value("diode_gmin");
    return 1 / (std::max(point.amps + saturation_amps, 0.0) / thermal + beside) + state.added_ohms;
}

double Diode::tolerant_ohms(const BranchState&) const {
    return 0;
}

void Diode::write(ElementWriter& deck, const BranchState& state, BatteryState) const {
    const std::array<double, 2> parameters{saturation_amps, emission};
    if (state.open) {
        deck.fixed(parameters, [] {});
        deck.resistor("r", first_end, second_end, open_ohms);
        return;
    }
    const bool behind = state.added_ohms >= copper_ohms;
    const ElementNode anode = behind ? own_node("x") : first_end;
    if (behind) deck.resistor("r", first_end, anode, std::min(state.added_ohms, open_ohms));
    deck.fixed(parameters, [&] {
        const double corrected = emission * diode_thermal_volts() / library_thermal_volts;
        const std::string model = deck.element_name("dm");
        deck.line(deck.element_name("d") + " " + deck.node_name(anode) + " " + deck.node_name(second_end) + " " +
                  model);
        deck.line(".model " + model + " d(is=" + deck_number(saturation_amps) + " n=" + deck_number(corrected) + ")");
    });
}

}  // namespace voltfall
