#include "netlists/laws/motor.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "netlists/laws/element_writer.hpp"

namespace voltfall {

namespace {

/// Floor for a brush's softness: below it tanh is a step that Newton cannot follow.
constexpr double least_brush_soft_amps = 1e-6;
constexpr int most_steps = 100;
constexpr double close_enough = 1e-12;

bool stands(const Motor& motor, const BranchState& state) {
    return state.turning == Turning::standing || motor.rotor == Rotor::seized;
}

/// Torque of a turning shaft by its speed, N.m.s: a solver's leak, and the shorted coils.
double speed_torque(const Motor& motor) {
    return 1 / turning_brake + motor.shorted_brake;
}

/// Resistance of the speed node: seized or standing, else turning.
double brake_of(const Motor& motor, const BranchState& state) {
    return stands(motor, state) ? standing_brake : 1 / speed_torque(motor);
}

/// Friction torque with the sign of the way it turns, N.m; zero while it stands.
double friction_of(const Motor& motor, const BranchState& state) {
    if (motor.rotor == Rotor::seized) return 0;
    return static_cast<double>(state.turning) * motor.friction_torque;
}

/// Winding and added ohms; 1e12 when open.
double winding_ohms(const Motor& motor, const BranchState& state) {
    if (state.open) return open_ohms;
    return std::clamp(motor.armature_ohms + state.added_ohms, copper_ohms, open_ohms);
}

double brush_soft(const Motor& motor) {
    return std::max(motor.brush_soft_amps, least_brush_soft_amps);
}

/// tanh of the brushes at a current, and its slope by the current.
struct Brush {
    double share{0};
    double slope{0};
};
Brush brush_at(const Motor& motor, double amps) {
    if (motor.brush_volts == 0) return {};
    const double soft = brush_soft(motor);
    constexpr double saturated = 20;  // tanh is 1 in a double's digits
    if (std::abs(amps) > saturated * soft) return {amps > 0 ? 1.0 : -1.0, 0.0};
    const double share = std::tanh(amps / soft);
    return {share, (1 - share * share) / soft};
}

/// Keeps a root between brackets while Newton's steps close in on it.
class Bracket {
public:
    Bracket(double low, double high) : low_(low), high_(high) {}
    /// The next point from `at`, where the function is `value` with a positive `slope`.
    double step(double at, double value, double slope) {
        (value > 0 ? high_ : low_) = at;
        const double next = at - value / slope;
        done_ = std::abs(next - at) <= close_enough * std::abs(at) + 1e-18;
        return done_ || (next > low_ && next < high_) ? next : (low_ + high_) / 2;
    }
    bool done() const { return done_; }

private:
    double low_;
    double high_;
    bool done_{false};
};

/// A held shaft: the unknown is the current. The speed is what the brake leaves, a millionth of a turn.
Flow held_flow(const Motor& motor, double ohms, double volts, double& speed) {
    const double brake = 1 / standing_brake;
    Bracket bracket(-std::abs(volts) / ohms - 1, std::abs(volts) / ohms + 1);
    double amps = volts / (ohms + (motor.brush_volts == 0 ? 0 : motor.brush_volts / brush_soft(motor)));
    double slope = ohms;
    for (int step = 0; step < most_steps && !bracket.done(); ++step) {
        const double torque = motor.constant * amps;
        speed = 2 * torque / (brake + std::sqrt(brake * brake + 4 * motor.fan_torque * std::abs(torque)));
        const Brush brush = brush_at(motor, amps);
        const double excess = amps * ohms + motor.brush_volts * brush.share + motor.constant * speed - volts;
        slope = ohms + motor.brush_volts * brush.slope +
                motor.constant * motor.constant / (brake + 2 * motor.fan_torque * std::abs(speed));
        amps = bracket.step(amps, excess, slope);
    }
    return {amps, 1 / slope};
}

/// The speed of a turning shaft if the brushes drop all their volts: a root of a quadratic.
double speed_with_full_brushes(const Motor& motor, double ohms, double friction, double volts) {
    const double square = ohms * motor.fan_torque / motor.constant;
    const double linear = motor.constant + ohms * speed_torque(motor) / motor.constant;
    const auto root = [&](double excess) {
        return -2 * excess / (linear + std::sqrt(linear * linear + 4 * square * std::abs(excess)));
    };
    const double brush = motor.brush_volts * (friction < 0 ? -1 : 1);
    return root(ohms * friction / motor.constant + brush - volts);
}

/// A turning shaft: the unknown is the speed.
Flow turning_flow(const Motor& motor, double ohms, double friction, double volts, double& speed) {
    const double brake = speed_torque(motor);
    constexpr double greatest_speed = 1e9;
    Bracket bracket(-greatest_speed, greatest_speed);
    speed = speed_with_full_brushes(motor, ohms, friction, volts);
    double by_speed = 0;  // amperes per rad/s
    double slope = 1;     // volts per rad/s
    const auto amps_at = [&](double w) {
        return (friction + motor.fan_torque * w * std::abs(w) + brake * w) / motor.constant;
    };
    for (int step = 0; step < most_steps && !bracket.done(); ++step) {
        const double amps = amps_at(speed);
        by_speed = (2 * motor.fan_torque * std::abs(speed) + brake) / motor.constant;
        const Brush brush = brush_at(motor, amps);
        const double excess = amps * ohms + motor.brush_volts * brush.share + motor.constant * speed - volts;
        slope = by_speed * (ohms + motor.brush_volts * brush.slope) + motor.constant;
        speed = bracket.step(speed, excess, slope);
    }
    return {amps_at(speed), by_speed / slope};
}

}  // namespace

std::optional<double> Motor::tie(const BranchState&, BatteryState) const {
    return std::nullopt;
}

std::optional<StraightLine> Motor::line(const BranchState&, BatteryState) const {
    return std::nullopt;
}

Flow Motor::flow(const BranchState& state, double volts, double& memory) const {
    const double ohms = winding_ohms(*this, state);
    return stands(*this, state) ? held_flow(*this, ohms, volts, memory)
                                : turning_flow(*this, ohms, friction_of(*this, state), volts, memory);
}

double Motor::first_volts(const BranchState& state, double volts) const {
    // A motor that turns begins near its speed at the supply's volts, where its curve is smooth.
    constexpr double usual_share = 0.8;
    return stands(*this, state) ? 0 : usual_share * volts * (state.turning == Turning::backward ? -1 : 1);
}

double Motor::least_slope(const BranchState& state) const {
    return 1 / (winding_ohms(*this, state) + armature_ohms);
}

double Motor::shaft_speed(double memory) const {
    return memory;
}

Power Motor::power(const BranchState& state, BatteryState, const BranchPoint& at) const {
    const double brush = brush_volts == 0 ? 0 : brush_volts * std::tanh(at.amps / brush_soft_amps);
    const double shaft = friction_of(*this, state) * at.speed + fan_torque * at.speed * at.speed * std::abs(at.speed);
    return {0, at.amps * at.amps * winding_ohms(*this, state) + brush * at.amps + shaft +
                   at.speed * at.speed / brake_of(*this, state)};
}

double Motor::slope_ohms(const BranchState& state, const BranchPoint& at) const {
    if (state.open) return open_ohms;
    constexpr double most_folds = 50;
    const double brush = std::cosh(std::min(std::abs(at.amps) / brush_soft_amps, most_folds));
    double ohms = armature_ohms + brush_volts / brush_soft_amps / (brush * brush);
    if (!stands(*this, state) && at.speed != 0 && (fan_torque > 0 || shorted_brake > 0)) {
        // K I = Tf + kb w + kq w^2 gives dw/dI = K / (kb + 2 kq w).
        ohms += constant * constant / (shorted_brake + 2 * fan_torque * std::abs(at.speed));
    }
    return ohms + state.added_ohms;
}

double Motor::tolerant_ohms(const BranchState&) const {
    return 0;
}

void Motor::write(ElementWriter& deck, const BranchState& state, BatteryState) const {
    // The speed (rad/s) is the voltage of a node, torques (N.m) are currents into it.
    const bool starts = deck.use() == DeckUse::start && rotor == Rotor::free;
    const bool has_coil = deck.use() == DeckUse::start && inductance > 0;
    const bool has_brushes = brush_volts != 0;
    const ElementNode before_ohms = own_node(has_coil ? "ml" : "ma");
    const ElementNode inner = own_node("mb");
    const ElementNode behind_brushes = has_brushes ? own_node("mc") : inner;
    const std::array<double, 2> brushes{brush_volts, brush_soft_amps};
    deck.ammeter("vm", first_end, own_node("ma"));
    if (has_coil) {
        deck.fixed({}, [&] {
            deck.line(deck.element_name("l") + " " + deck.node_name(own_node("ma")) + " " +
                      deck.node_name(before_ohms) + " " + deck_number(inductance));
        });
    }
    deck.resistor("r", before_ohms, inner, winding_ohms(*this, state));
    deck.fixed(brushes, [&] {
        if (!has_brushes) return;
        deck.line(deck.element_name("bb") + " " + deck.node_name(inner) + " " + deck.node_name(behind_brushes) +
                  " V=" + deck_number(brush_volts) + "*tanh(i(" + deck.element_name("vm") + ")/" +
                  deck_number(brush_soft(*this)) + ")");
    });
    deck.speed_voltage("e", behind_brushes, second_end, constant);
    deck.speed_current("f", constant);
    if (starts) {
        // Inertia is a capacitor. Friction opposes the way it turns, and whatever torque is below it while it stands.
        deck.fixed({}, [&] {
            const std::string speed = deck.node_name(speed_node);
            if (inertia > 0) deck.line(deck.element_name("c") + " " + speed + " 0 " + deck_number(inertia));
            if (friction_torque > 0) {
                deck.line(deck.element_name("bt") + " " + speed + " 0 I=" + deck_number(friction_torque) + "*tanh(v(" +
                          speed + ")/" + deck_number(friction_soft_speed) + ")");
            }
        });
    } else {
        deck.current("i", speed_node, reference_node, friction_of(*this, state));
    }
    deck.voltage("vq", own_node("q"), reference_node, fan_torque);
    deck.fixed({}, [&] {
        const std::string speed = deck.node_name(speed_node);
        deck.line(deck.element_name("bf") + " " + speed + " 0 I=v(" + deck.node_name(own_node("q")) + ")*v(" + speed +
                  ")*abs(v(" + speed + "))");
    });
    deck.resistor("rb", speed_node, reference_node, starts ? 1 / speed_torque(*this) : brake_of(*this, state));
}

}  // namespace voltfall
