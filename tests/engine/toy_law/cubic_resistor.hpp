// A branch law that the program does not have, added as a law is: this file and its name in `Law`.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "netlists/laws/branch_state.hpp"
#include "netlists/laws/element_writer.hpp"

namespace voltfall {

/// I = V / R * (1 + (V / Vk)^2), ohms and volts above zero: a made-up cousin of a varistor.
struct CubicResistor {
    double ohms{};
    double knee_volts{};

    static constexpr LawSort sort = LawSort::plain;
    std::optional<double> plain_ohms() const { return std::nullopt; }
    bool conducts() const { return true; }
    std::optional<double> tie(const BranchState&, BatteryState) const { return std::nullopt; }
    std::optional<StraightLine> line(const BranchState& state, BatteryState) const {
        return state.open ? std::optional(StraightLine{open_ohms, 0}) : std::nullopt;
    }
    Flow flow(const BranchState& state, double volts, double&) const {
        const double inner = inner_volts(state, volts);
        const double slope = slope_at(inner);
        return {amps_at(inner), slope / (1 + slope * state.added_ohms)};
    }
    double first_volts(const BranchState&, double) const { return 0; }
    double least_slope(const BranchState& state) const { return 1 / (ohms + state.added_ohms); }
    double shaft_speed(double) const { return 0; }
    Power power(const BranchState& state, BatteryState, const BranchPoint& point) const {
        if (state.open) return {0, point.volts * point.volts / open_ohms};
        return {0, point.volts * amps_at(inner_volts(state, point.volts))};
    }
    double slope_ohms(const BranchState& state, const BranchPoint& point) const {
        if (state.open) return open_ohms;
        return 1 / slope_at(inner_volts(state, point.volts)) + state.added_ohms;
    }
    double tolerant_ohms(const BranchState&) const { return 0; }
    void write(ElementWriter& deck, const BranchState& state, BatteryState) const {
        const std::array<double, 2> parameters{ohms, knee_volts};
        if (state.open) {
            deck.fixed(parameters, [] {});
            deck.resistor("r", first_end, second_end, open_ohms);
            return;
        }
        const bool behind = state.added_ohms >= copper_ohms;
        const ElementNode inner = behind ? own_node("x") : first_end;
        if (behind) deck.resistor("r", first_end, inner, state.added_ohms);
        deck.fixed(parameters, [&] {
            const std::string across = "v(" + deck.node_name(inner) + "," + deck.node_name(second_end) + ")";
            deck.line(deck.element_name("bc") + " " + deck.node_name(inner) + " " + deck.node_name(second_end) +
                      " I=" + across + "/" + deck_number(ohms) + "*(1+" + across + "*" + across + "/" +
                      deck_number(knee_volts * knee_volts) + ")");
        });
    }
    bool operator==(const CubicResistor&) const = default;

private:
    double amps_at(double volts) const { return volts / ohms * (1 + volts * volts / (knee_volts * knee_volts)); }
    double slope_at(double volts) const { return (1 + 3 * volts * volts / (knee_volts * knee_volts)) / ohms; }
    /// Volts over the law itself, behind the ohms that a fault added: Newton's method on a convex branch of a cubic.
    double inner_volts(const BranchState& state, double volts) const {
        double inner = volts;
        for (int step = 0; step < 100; ++step) {
            const double excess = inner + state.added_ohms * amps_at(inner) - volts;
            const double change = excess / (1 + state.added_ohms * slope_at(inner));
            inner -= change;
            if (std::abs(change) <= 1e-15 * std::abs(volts)) break;
        }
        return inner;
    }
};

}  // namespace voltfall
