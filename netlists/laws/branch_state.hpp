// What every law of a branch shares: how the branch stands, and what a law answers of it.
#pragma once

#include <concepts>
#include <optional>

namespace voltfall {

/// Which way a motor turns; settled around the operating point.
enum class Turning : signed char { backward = -1, standing = 0, forward = 1 };

/// Does the engine run, or is it cranked? A battery then stands at its charging volts, or sags under its starter.
enum class BatteryState : unsigned char { resting, charging, cranking };

/// How one branch stands: what faults and states have done to it beside its law.
struct BranchState {
    double added_ohms{0};  ///< in series, ohms
    bool open{false};      ///< by a fault, or by a state that unplugs it
    bool held{false};      ///< a contact that no switch or relay moves
    Turning turning{Turning::forward};
};

/// Ohms that stand for "open" in every solver (see the measured table in DEVELOPERS.md).
inline constexpr double open_ohms = 1e12;
/// Idle shunt from every node to the reference, ohms.
inline constexpr double shunt_ohms = 1e8;
/// Less than this is one piece of copper, ohms: at 1000 A it would drop 0.1 mV, and a solver's rounding of node volts
/// over it would already show in the currents.
inline constexpr double copper_ohms = 1e-7;

/// A straight branch: I = (V - emf) / ohms, ohms at least `copper_ohms`.
struct StraightLine {
    double ohms{};
    double emf{};
};

/// Current and slope of a curved branch at some volts across it, amperes and siemens. The slope is never negative.
struct Flow {
    double amps{};
    double slope{};
    bool limited{false};  ///< taken on the tangent at another voltage: not yet the branch's current at these volts
};

/// Watts that a branch makes and spends at an operating point.
struct Power {
    double made{0};
    double spent{0};
};

/// What a branch has at an operating point.
struct BranchPoint {
    double volts{};  ///< first joint less second
    double amps{};   ///< first joint to second
    double speed{};  ///< of a shaft, rad/s
};

/// What a law is to the rooms that trace, warm or watch a circuit.
enum class LawSort : unsigned char {
    plain,    ///< ohms, or a contact's
    source,   ///< drives current by itself
    one_way,  ///< blocks one direction
    motor,    ///< turns a shaft
};

class ElementWriter;

/// What a law must answer, each in its own file. To add a law: a struct that meets this, and its name in `Law`.
template <class L>
concept BranchLaw = requires(const L& law, const BranchState& state, BatteryState battery, double& memory,
                             ElementWriter& deck, const BranchPoint& point) {
    /// Volts that the branch holds between its joints whatever flows: 0 for a piece of copper. Nullopt where it does
    /// not.
    { law.tie(state, battery) } -> std::same_as<std::optional<double>>;
    /// Nullopt for a curved law. Not asked of a tie.
    { law.line(state, battery) } -> std::same_as<std::optional<StraightLine>>;
    /// Current and slope at these volts. `memory` is the law's own from call to call (a speed, a junction's volts).
    { law.flow(state, double{}, memory) } -> std::same_as<Flow>;
    /// Volts across at which Newton's first tangent is taken, when the highest EMF about is this many volts.
    { law.first_volts(state, double{}) } -> std::same_as<double>;
    /// Least slope worth counting on in a sweep, siemens.
    { law.least_slope(state) } -> std::same_as<double>;
    /// Speed of the shaft that `memory` tells, rad/s; 0 where there is none.
    { law.shaft_speed(double{}) } -> std::same_as<double>;
    { law.power(state, battery, point) } -> std::same_as<Power>;
    /// Small-signal ohms at a point; 0 for a piece of copper.
    { law.slope_ohms(state, point) } -> std::same_as<double>;
    /// Ohms that the branch's own tolerance speaks of, without those that a fault added.
    { law.tolerant_ohms(state) } -> std::same_as<double>;
    { L::sort } -> std::convertible_to<LawSort>;
    /// Ohms of a law that is nothing but ohms while it conducts, without those that a fault added; nullopt for others.
    { law.plain_ohms() } -> std::same_as<std::optional<double>>;
    /// False where the law itself stands open, as a contact may.
    { law.conducts() } -> std::same_as<bool>;
    { law == law } -> std::same_as<bool>;
    /// Its elements in a deck.
    { law.write(deck, state, battery) } -> std::same_as<void>;
};

}  // namespace voltfall
