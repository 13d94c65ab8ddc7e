// A brushed permanent-magnet motor with a fan on its shaft.
#pragma once

#include "netlists/laws/branch_state.hpp"

namespace voltfall {

enum class Rotor { free, seized };

/// Brushed permanent-magnet motor with a fan: V = I Ra + Vb tanh(I / soft) + K w and K I = Tf + kb w + kq w^2
/// (standard forms; reference parts 1.4). w in rad/s. kb is 0 in a sound motor: shorted coils that turn in the field
/// are a generator on its own ohms, which brakes in proportion to the speed.
struct Motor {
    double armature_ohms{};    ///< Ra
    double brush_volts{};      ///< Vb
    double brush_soft_amps{};  ///< soft
    double constant{};         ///< K, V.s/rad and N.m/A
    double friction_torque{};  ///< Tf, N.m
    double fan_torque{};       ///< kq, N.m.s2
    Rotor rotor{Rotor::free};
    double inertia{0};        ///< J of rotor and wheel, kg.m2; matters only while a speed changes
    double inductance{0};     ///< La of the armature, H; matters only while a current changes
    double shorted_brake{0};  ///< kb, N.m.s: torque of shorted coils by the speed

    static constexpr LawSort sort = LawSort::motor;
    std::optional<double> plain_ohms() const { return std::nullopt; }
    bool conducts() const { return true; }
    std::optional<double> tie(const BranchState& state, BatteryState battery) const;
    std::optional<StraightLine> line(const BranchState& state, BatteryState battery) const;
    /// `memory` receives the speed, rad/s.
    Flow flow(const BranchState& state, double volts, double& memory) const;
    double first_volts(const BranchState& state, double volts) const;
    double least_slope(const BranchState& state) const;
    double shaft_speed(double memory) const;
    Power power(const BranchState& state, BatteryState battery, const BranchPoint& point) const;
    double slope_ohms(const BranchState& state, const BranchPoint& point) const;
    double tolerant_ohms(const BranchState& state) const;
    void write(ElementWriter& deck, const BranchState& state, BatteryState battery) const;
    bool operator==(const Motor&) const = default;
};

/// Friction of a motor that starts is Tf tanh(w / this), rad/s: a standing shaft creeps by no more than some of it, and
/// above ten of it the friction is Tf to nine digits.
inline constexpr double friction_soft_speed = 1e-3;

/// The resistance of a motor's speed node to standstill while it stands: far below any torque, rad/s per N.m.
inline constexpr double standing_brake = 1e-7;
/// The same while it turns: none.
inline constexpr double turning_brake = 1e12;

}  // namespace voltfall
