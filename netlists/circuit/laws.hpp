// The laws of branches: all that the simulator knows of a part.
#pragma once

#include <variant>

namespace voltfall {

/// Ohms between two joints. Zero ohms is one piece of copper: the two joints become one node.
struct Resistor {
    double ohms{};
};

/// A closed contact has `ohms`; an open one is an open circuit.
struct Contact {
    double ohms{};
    bool closed{true};
};

/// An EMF behind ohms; the branch runs from its plus to its minus joint. The charging volts count while the
/// engine runs.
struct Source {
    double volts{};
    double charging_volts{};
    double ohms{};
};

/// Shockley diode from the branch's first joint (A) to its second (K). Amperes, emission coefficient.
struct Diode {
    double saturation_amps{};
    double emission{};
};

enum class Rotor { free, seized };

/// Brushed permanent-magnet motor with a fan: V = I Ra + Vb tanh(I / soft) + K w and K I = Tf + kq w^2
/// (standard forms; reference parts 1.4). w in rad/s.
struct Motor {
    double armature_ohms{};      ///< Ra
    double brush_volts{};        ///< Vb
    double brush_soft_amps{};    ///< soft
    double constant{};           ///< K, V.s/rad and N.m/A
    double friction_torque{};    ///< Tf, N.m
    double fan_torque{};         ///< kq, N.m.s2
    Rotor rotor{Rotor::free};
    double inertia{0};           ///< J of rotor and wheel, kg.m2; matters only while a speed changes
    double inductance{0};        ///< La of the armature, H; matters only while a current changes
};

using Law = std::variant<Resistor, Contact, Source, Diode, Motor>;

}  // namespace voltfall
