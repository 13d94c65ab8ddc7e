// Ohms between two joints, and a contact that has them while it is closed.
#pragma once

#include <algorithm>

#include "netlists/laws/branch_state.hpp"

namespace voltfall {

/// Ohms between two joints. Zero ohms is one piece of copper: the two joints become one node.
struct Resistor {
    double ohms{};

    static constexpr LawSort sort = LawSort::plain;
    std::optional<double> plain_ohms() const { return ohms; }
    bool conducts() const { return true; }
    std::optional<double> tie(const BranchState& state, BatteryState) const {
        return !state.open && ohms + state.added_ohms < copper_ohms ? std::optional(0.0) : std::nullopt;
    }
    std::optional<StraightLine> line(const BranchState& state, BatteryState) const {
        return StraightLine{ohms_in(state), 0};
    }
    /// Ohms as it stands: 1e12 when open.
    double ohms_in(const BranchState& state) const {
        return state.open ? open_ohms : std::min(ohms + state.added_ohms, open_ohms);
    }
    Flow flow(const BranchState& state, double volts, double& memory) const;
    double first_volts(const BranchState& state, double volts) const;
    double least_slope(const BranchState& state) const;
    double shaft_speed(double memory) const;
    Power power(const BranchState& state, BatteryState battery, const BranchPoint& point) const;
    double slope_ohms(const BranchState& state, const BranchPoint& point) const;
    double tolerant_ohms(const BranchState& state) const;
    void write(ElementWriter& deck, const BranchState& state, BatteryState battery) const;
    bool operator==(const Resistor&) const = default;
};

/// A closed contact has `ohms`; an open one is an open circuit.
struct Contact {
    double ohms{};
    bool closed{true};

    static constexpr LawSort sort = LawSort::plain;
    std::optional<double> plain_ohms() const { return ohms; }
    bool conducts() const { return closed; }
    std::optional<double> tie(const BranchState& state, BatteryState battery) const {
        return closed ? as_resistor().tie(state, battery) : std::nullopt;
    }
    std::optional<StraightLine> line(const BranchState& state, BatteryState battery) const {
        return as_resistor().line(state, battery);
    }
    Flow flow(const BranchState& state, double volts, double& memory) const;
    double first_volts(const BranchState& state, double volts) const;
    double least_slope(const BranchState& state) const;
    double shaft_speed(double memory) const;
    Power power(const BranchState& state, BatteryState battery, const BranchPoint& point) const;
    double slope_ohms(const BranchState& state, const BranchPoint& point) const;
    double tolerant_ohms(const BranchState& state) const;
    void write(ElementWriter& deck, const BranchState& state, BatteryState battery) const;
    bool operator==(const Contact&) const = default;

    /// The resistor that it is as it stands.
    Resistor as_resistor() const { return {closed ? ohms : open_ohms}; }
};

}  // namespace voltfall
