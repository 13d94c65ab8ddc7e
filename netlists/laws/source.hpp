// An EMF behind ohms: a battery.
#pragma once

#include "netlists/laws/branch_state.hpp"

namespace voltfall {

/// An EMF behind ohms; the branch runs from its plus to its minus joint. The charging volts count while the engine
/// runs. Without ohms it ties its joints at a fixed voltage.
struct Source {
    double volts{};
    double charging_volts{};
    double ohms{};
    double starter_ohms{0};  ///< of a starter motor across it while it cranks; 0: none

    /// Volts behind the ohms. While the engine is cranked the starter takes its share: the volts behind the battery's
    /// own and `added` ohms are those that are left at its posts; those ohms stay in series for what else it feeds.
    double emf(BatteryState battery, double added_ohms = 0) const;

    static constexpr LawSort sort = LawSort::source;
    std::optional<double> plain_ohms() const { return std::nullopt; }
    bool conducts() const { return true; }
    std::optional<double> tie(const BranchState& state, BatteryState battery) const;
    std::optional<StraightLine> line(const BranchState& state, BatteryState battery) const;
    Flow flow(const BranchState& state, double volts, double& memory) const;
    double first_volts(const BranchState& state, double volts) const;
    double least_slope(const BranchState& state) const;
    double shaft_speed(double memory) const;
    Power power(const BranchState& state, BatteryState battery, const BranchPoint& point) const;
    double slope_ohms(const BranchState& state, const BranchPoint& point) const;
    double tolerant_ohms(const BranchState& state) const;
    void write(ElementWriter& deck, const BranchState& state, BatteryState battery) const;
    bool operator==(const Source&) const = default;
};

}  // namespace voltfall
