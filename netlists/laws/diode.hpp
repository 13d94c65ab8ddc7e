// A junction: current one way.
#pragma once

#include "netlists/laws/branch_state.hpp"

namespace voltfall {

/// Shockley diode from the branch's first joint (A) to its second (K). Amperes, emission coefficient.
struct Diode {
    double saturation_amps{};
    double emission{};

    static constexpr LawSort sort = LawSort::one_way;
    std::optional<double> plain_ohms() const { return std::nullopt; }
    bool conducts() const { return true; }
    std::optional<double> tie(const BranchState& state, BatteryState battery) const;
    std::optional<StraightLine> line(const BranchState& state, BatteryState battery) const;
    /// `memory` is the junction's volts; where they climb too fast, the current is taken on a tangent
    /// (`Flow::limited`).
    Flow flow(const BranchState& state, double volts, double& memory) const;
    double first_volts(const BranchState& state, double volts) const;
    double least_slope(const BranchState& state) const;
    double shaft_speed(double memory) const;
    Power power(const BranchState& state, BatteryState battery, const BranchPoint& point) const;
    double slope_ohms(const BranchState& state, const BranchPoint& point) const;
    double tolerant_ohms(const BranchState& state) const;
    void write(ElementWriter& deck, const BranchState& state, BatteryState battery) const;
    bool operator==(const Diode&) const = default;
};

/// Volts over which a diode's current grows e-fold at emission coefficient 1 (table row `diode_vt`). The deck corrects
/// the emission coefficient so that the library, whose own kT/q differs in the fifth digit, works with this value.
double diode_thermal_volts();
/// Amperes through a junction as the library computes them: Shockley forward, a cubic tail far below zero, and gmin
/// beside.
double diode_amps(const Diode& diode, double volts);

}  // namespace voltfall
