#include "tests/support/dense_oracle.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <limits>
#include <optional>
#include <variant>

namespace voltfall::test {

namespace {

using Real = long double;
using Matrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
using Vector = Eigen::Matrix<Real, Eigen::Dynamic, 1>;

// What the deck promises (files and laws of the project, stated again on purpose).
constexpr Real open_value = 1e12L;
constexpr Real shunt_value = 1e8L;
constexpr Real junction_leak = 1e-12L;
constexpr Real diode_volts = 0.025864186L;
constexpr Real brake_standing = 1e-7L;
constexpr Real brake_turning = 1e12L;

constexpr int most_iterations = 400;

/// What a branch is to the oracle.
struct Element {
    enum class Kind { wire, resistor, source, diode, motor } kind{Kind::wire};
    int a{-1};
    int b{-1};
    Real ohms{0};
    Real volts{0};
    Motor motor{};
    Diode diode{};
    Real brake{0};
    Real friction{0};
    int current{-1};  ///< its unknown, for sources, motors and diodes behind ohms
    int speed{-1};
    Real junction{0};  ///< volts at which a diode is linearised
};

Element element_of(const NetworkBranch& branch, BatteryState battery) {
    Element element;
    const Real added = branch.added_ohms;
    if (const auto* r = std::get_if<Resistor>(&branch.law)) {
        element.ohms = branch.open ? open_value : r->ohms + added;
        element.kind = element.ohms == 0 ? Element::Kind::wire : Element::Kind::resistor;
    } else if (const auto* c = std::get_if<Contact>(&branch.law)) {
        element.ohms = branch.open || !c->closed ? open_value : c->ohms + added;
        element.kind = element.ohms == 0 ? Element::Kind::wire : Element::Kind::resistor;
    } else if (const auto* s = std::get_if<Source>(&branch.law)) {
        element.kind = Element::Kind::source;
        element.ohms = branch.open ? open_value : s->ohms + added;
        element.volts = battery == BatteryState::charging ? s->charging_volts : s->volts;
        // A starter across the posts divides the volts with what stands before it.
        if (battery == BatteryState::cranking && s->starter_ohms > 0)
            element.volts *= s->starter_ohms / (s->starter_ohms + s->ohms + added);
    } else if (const auto* d = std::get_if<Diode>(&branch.law)) {
        element.kind = branch.open ? Element::Kind::resistor : Element::Kind::diode;
        element.ohms = branch.open ? open_value : added;
        element.diode = *d;
    } else if (const auto* m = std::get_if<Motor>(&branch.law)) {
        element.kind = Element::Kind::motor;
        element.motor = *m;
        element.ohms = branch.open ? open_value : m->armature_ohms + added;
        const bool stands = branch.turning == Turning::standing || m->rotor == Rotor::seized;
        element.brake = stands ? brake_standing : brake_turning;
        element.friction = stands ? 0.0L : static_cast<Real>(branch.turning) * m->friction_torque;
    }
    return element;
}

struct Slope {
    Real value;
    Real slope;
};

Slope diode_law(const Diode& diode, Real volts) {
    const Real scale = diode.emission * diode_volts;
    const Real is = diode.saturation_amps;
    if (volts >= -3 * scale) {
        const Real power = std::exp(volts / scale);
        return {is * (power - 1) + junction_leak * volts, is * power / scale + junction_leak};
    }
    const Real ratio = 3 * scale / (volts * std::exp(1.0L));
    const Real cube = ratio * ratio * ratio;
    return {-is * (1 + cube) + junction_leak * volts, 3 * is * cube / volts + junction_leak};
}

/// Keeps a junction's step within what its exponential can follow.
Real limited(const Diode& diode, Real next, Real now) {
    const Real scale = diode.emission * diode_volts;
    const Real critical = scale * std::log(scale / (std::sqrt(2.0L) * static_cast<Real>(diode.saturation_amps)));
    if (next <= critical || std::abs(next - now) <= 2 * scale) return next;
    if (now <= 0) return scale * std::log(std::max<Real>(next / scale, 2));
    const Real step = 1 + (next - now) / scale;
    return step > 0 ? now + scale * std::log(step) : critical;
}

class System {
public:
    System(const Network& network, bool shunts) : network_(network), shunts_(shunts) {
        merge_wires();
        for (const NetworkBranch& branch : network.branches) {
            Element element = element_of(branch, network.battery);
            element.a = node_[branch.a.index];
            element.b = node_[branch.b.index];
            elements_.push_back(element);
        }
        size_ = nodes_;
        for (Element& element : elements_) {
            using Kind = Element::Kind;
            const bool behind_ohms = element.kind == Kind::diode && element.ohms > 0;
            if (element.kind == Kind::source || element.kind == Kind::motor || behind_ohms) element.current = size_++;
            if (element.kind == Kind::motor) element.speed = size_++;
        }
    }

    std::optional<Vector> solve() {
        Vector x = Vector::Zero(size_);
        for (const Element& element : elements_) {
            // Away from zero speed, where the fan's torque has no slope.
            if (element.speed >= 0) x(element.speed) = element.brake > 1 ? 100 : 0;
        }
        if (newton(x, 1)) return x;
        x.setZero();
        for (int step = 1; step <= 100; ++step) {
            if (!newton(x, step / 100.0L)) return std::nullopt;
        }
        return x;
    }

    OperatingPoint point(const Vector& x) const {
        OperatingPoint out;
        for (const int node : node_) out.volts.push_back(static_cast<double>(at(x, node)));
        for (const Element& element : elements_) {
            out.amps.push_back(static_cast<double>(amps(element, x)));
            out.speed.push_back(element.speed >= 0 ? static_cast<double>(x(element.speed)) : 0.0);
        }
        return out;
    }

private:
    static Real at(const Vector& x, int node) { return node < 0 ? 0 : x(node); }

    /// Repeated relabelling: slow, short, and not the union-find of the deck. Node -1 is the reference.
    void merge_wires() {
        std::vector<std::size_t> label(network_.joints);
        for (std::size_t i = 0; i < label.size(); ++i) label[i] = i;
        for (const NetworkBranch& branch : network_.branches) {
            if (element_of(branch, BatteryState::resting).kind != Element::Kind::wire) continue;
            const std::size_t from = label[branch.a.index];
            const std::size_t to = label[branch.b.index];
            for (std::size_t& each : label) each = each == from ? to : each;
        }
        std::vector<int> number(label.size(), -2);
        number[label[network_.circuit->reference.index]] = -1;
        for (const std::size_t each : label) {
            if (number[each] == -2) number[each] = nodes_++;
            node_.push_back(number[each]);
        }
    }

    Real amps(const Element& element, const Vector& x) const {
        const Real volts = at(x, element.a) - at(x, element.b);
        switch (element.kind) {
            case Element::Kind::wire:
                return std::numeric_limits<Real>::quiet_NaN();
            case Element::Kind::resistor:
                return volts / element.ohms;
            case Element::Kind::source:
            case Element::Kind::motor:
                return x(element.current);
            case Element::Kind::diode:
                return element.current >= 0 ? x(element.current) : diode_law(element.diode, volts).value;
        }
        return 0;
    }

    void add(int row, int column, Real value) {
        if (row >= 0 && column >= 0) jacobian_(row, column) += value;
    }

    void flow(const Element& element, Real value) {
        if (element.a >= 0) residual_(element.a) += value;
        if (element.b >= 0) residual_(element.b) -= value;
    }

    void conductance(const Element& element, Real slope) {
        add(element.a, element.a, slope);
        add(element.a, element.b, -slope);
        add(element.b, element.b, slope);
        add(element.b, element.a, -slope);
    }

    /// A branch with its own current unknown: volts(a,b) - drop = 0.
    void branch_row(const Element& element, const Vector& x, Real drop, Real drop_slope) {
        const int row = element.current;
        flow(element, x(row));
        add(element.a, row, 1);
        add(element.b, row, -1);
        residual_(row) += at(x, element.a) - at(x, element.b) - drop;
        add(row, element.a, 1);
        add(row, element.b, -1);
        add(row, row, -drop_slope);
    }

    void stamp_motor(const Element& element, const Vector& x) {
        const Real current = x(element.current);
        const Real speed = x(element.speed);
        const Motor& motor = element.motor;
        Real drop = current * element.ohms + motor.constant * speed;
        Real slope = element.ohms;
        if (motor.brush_volts != 0) {
            const Real soft = motor.brush_soft_amps;
            const Real saturation = std::tanh(current / soft);
            drop += motor.brush_volts * saturation;
            slope += motor.brush_volts / soft * (1 - saturation * saturation);
        }
        branch_row(element, x, drop, slope);
        add(element.current, element.speed, -static_cast<Real>(motor.constant));
        residual_(element.speed) += element.friction + motor.fan_torque * speed * std::abs(speed) +
                                    motor.shorted_brake * speed + speed / element.brake - motor.constant * current;
        add(element.speed, element.speed,
            2 * motor.fan_torque * std::abs(speed) + motor.shorted_brake + 1 / element.brake);
        add(element.speed, element.current, -static_cast<Real>(motor.constant));
    }

    void stamp_diode(Element& element, const Vector& x) {
        const Real volts = at(x, element.a) - at(x, element.b);
        const Real across = element.current >= 0 ? volts - x(element.current) * element.ohms : volts;
        element.junction = limited(element.diode, across, element.junction);
        const Slope law = diode_law(element.diode, element.junction);
        const Real linear = law.value + law.slope * (across - element.junction);
        if (element.current < 0) {
            flow(element, linear);
            conductance(element, law.slope);
            return;
        }
        const int row = element.current;
        flow(element, x(row));
        add(element.a, row, 1);
        add(element.b, row, -1);
        residual_(row) += x(row) - linear;
        add(row, row, 1 + law.slope * element.ohms);
        add(row, element.a, -law.slope);
        add(row, element.b, law.slope);
    }

    void assemble(const Vector& x, Real share) {
        jacobian_ = Matrix::Zero(size_, size_);
        residual_ = Vector::Zero(size_);
        for (Element& element : elements_) {
            switch (element.kind) {
                case Element::Kind::wire:
                    break;
                case Element::Kind::resistor:
                    flow(element, (at(x, element.a) - at(x, element.b)) / element.ohms);
                    conductance(element, 1 / element.ohms);
                    break;
                case Element::Kind::source:
                    branch_row(element, x, share * element.volts + x(element.current) * element.ohms, element.ohms);
                    break;
                case Element::Kind::diode:
                    stamp_diode(element, x);
                    break;
                case Element::Kind::motor:
                    stamp_motor(element, x);
                    break;
            }
        }
        for (int node = 0; shunts_ && node < nodes_; ++node) {
            residual_(node) += x(node) / shunt_value;
            add(node, node, 1 / shunt_value);
        }
    }

    bool newton(Vector& x, Real share) {
        for (int iteration = 0; iteration < most_iterations; ++iteration) {
            assemble(x, share);
            Eigen::FullPivLU<Matrix> factors;
            // An island held by shunts beside an open of 1e12 ohm is small, not singular.
            factors.setThreshold(1e-40L);
            factors.compute(jacobian_);
            const Vector step = factors.solve(residual_);
            if (!step.allFinite()) return false;
            x -= step;
            Real worst = 0;
            for (int i = 0; i < size_; ++i) worst = std::max(worst, std::abs(step(i)) / (1 + std::abs(x(i))));
            if (worst < 1e-13L && junctions_rest(x)) return true;
        }
        return false;
    }

    /// A limited junction has not reached its volts yet.
    bool junctions_rest(const Vector& x) const {
        for (const Element& element : elements_) {
            if (element.kind != Element::Kind::diode) continue;
            const Real volts = at(x, element.a) - at(x, element.b);
            const Real across = element.current >= 0 ? volts - x(element.current) * element.ohms : volts;
            if (std::abs(across - element.junction) > 1e-12L) return false;
        }
        return true;
    }

    const Network& network_;
    bool shunts_;
    std::vector<Element> elements_;
    std::vector<int> node_;
    int nodes_{0};
    int size_{0};
    Matrix jacobian_;
    Vector residual_;
};

}  // namespace

SolveResult DenseOracle::solve(const Network& network) {
    System system(network, shunts_);
    const auto x = system.solve();
    if (!x) return tl::unexpected(SolveFailure{SolveFailure::Kind::no_solution, "the oracle finds no solution"});
    return system.point(*x);
}

}  // namespace voltfall::test
