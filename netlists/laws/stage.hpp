// What electronics make of a branch: a straight line that is settled around the operating point.
#pragma once

#include "netlists/laws/branch_state.hpp"

namespace voltfall {

/// I = siemens (V - emf), V from the first to the second joint. The siemens may be negative: an averaged chopper is
/// three such branches, one of them negative, which together only spend power (see `parts/drive.hpp`). Zero siemens is
/// an open branch. `passes` tells rooms that trace wires whether current finds its way through here.
struct Stage {
    double siemens{};
    double emf{};
    bool passes{true};

    static constexpr LawSort sort = LawSort::plain;
    std::optional<double> plain_ohms() const { return std::nullopt; }
    bool conducts() const { return passes && siemens > 0; }
    std::optional<double> tie(const BranchState&, BatteryState) const { return std::nullopt; }
    std::optional<StraightLine> line(const BranchState& state, BatteryState) const;
    /// Ohms as it stands, with what a fault has put in series; 1e12 when open. May be negative.
    double ohms_in(const BranchState& state) const;
    Flow flow(const BranchState& state, double volts, double& memory) const;
    double first_volts(const BranchState&, double) const { return 0; }
    double least_slope(const BranchState& state) const { return 1 / ohms_in(state); }
    double shaft_speed(double) const { return 0; }
    Power power(const BranchState& state, BatteryState battery, const BranchPoint& point) const;
    double slope_ohms(const BranchState& state, const BranchPoint&) const { return ohms_in(state); }
    double tolerant_ohms(const BranchState&) const { return 0; }
    void write(ElementWriter& deck, const BranchState& state, BatteryState battery) const;
    bool operator==(const Stage&) const = default;
};

}  // namespace voltfall
