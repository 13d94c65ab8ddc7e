#include "engine/meters/linear_circuit.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <variant>

#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

template <class... Handlers>
struct Overloaded : Handlers... {
    using Handlers::operator()...;
};
template <class... Handlers>
Overloaded(Handlers...) -> Overloaded<Handlers...>;

/// A source without ohms is given this much, so that every branch has a conductance; far below any contact.
constexpr double least_ohms = 1e-7;

double motor_slope(const Motor& motor, Turning turning, double amps, double speed) {
    const double brush = std::cosh(std::min(std::abs(amps) / motor.brush_soft_amps, 50.0));
    double ohms = motor.armature_ohms + motor.brush_volts / motor.brush_soft_amps / (brush * brush);
    const bool turns = motor.rotor == Rotor::free && turning != Turning::standing && speed != 0;
    if (turns && motor.fan_torque > 0) {
        // K I = Tf + kq w^2 gives dw/dI = K / (2 kq w).
        ohms += motor.constant * motor.constant / (2 * motor.fan_torque * std::abs(speed));
    }
    return ohms;
}

double diode_slope(const Diode& diode, double amps) {
    const double thermal = default_value("diode_vt") * diode.emission;
    return 1 / (std::max(amps + diode.saturation_amps, 0.0) / thermal + default_value("diode_gmin"));
}

/// Ohms that the tolerance of the branch speaks of: its own as fitted, without those that a fault added.
double tolerant_ohms(const NetworkBranch& branch) {
    if (branch.open) return 0;
    return std::visit(Overloaded{
                          [](const Resistor& law) { return law.ohms; },
                          [](const Contact& law) { return law.closed ? law.ohms : 0.0; },
                          [](const Source& law) { return law.ohms; },
                          [](const Diode&) { return 0.0; },
                          [](const Motor&) { return 0.0; },
                      },
                      branch.law);
}

/// Joints that zero-ohm branches make one piece of copper.
std::vector<int> find_nodes(const Network& network, int& count) {
    std::vector<std::size_t> parent(network.joints);
    std::iota(parent.begin(), parent.end(), std::size_t{0});
    const auto find = [&](std::size_t joint) {
        while (parent[joint] != joint) joint = parent[joint] = parent[parent[joint]];
        return joint;
    };
    for (const NetworkBranch& branch : network.branches) {
        if (slope_ohms(branch, 0, 0) == 0) parent[find(branch.a.index)] = find(branch.b.index);
    }
    const std::size_t reference = find(network.circuit->reference.index);
    std::vector<int> node(network.joints, -2);
    count = 0;
    std::vector<int> of_root(network.joints, -2);
    of_root[reference] = -1;
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        int& root = of_root[find(joint)];
        if (root == -2) root = count++;
        node[joint] = root;
    }
    return node;
}

}  // namespace

double slope_ohms(const NetworkBranch& branch, double amps, double speed) {
    if (branch.open) return open_ohms;
    return std::visit(
        Overloaded{
            [&](const Resistor& law) { return law.ohms + branch.added_ohms; },
            [&](const Contact& law) { return law.closed ? law.ohms + branch.added_ohms : open_ohms; },
            [&](const Source& law) { return std::max(law.ohms + branch.added_ohms, least_ohms); },
            [&](const Diode& law) { return diode_slope(law, amps) + branch.added_ohms; },
            [&](const Motor& law) { return motor_slope(law, branch.turning, amps, speed) + branch.added_ohms; },
        },
        branch.law);
}

struct LinearCircuit::Parts {
    const Network* network;
    std::vector<int> node;            ///< by joint; -1 is the reference
    std::vector<double> conductance;  ///< by branch; 0 for one piece of copper
    std::vector<double> amps;         ///< by branch
    Eigen::LLT<Eigen::MatrixXd> factor;
    Eigen::Index nodes{0};

    double at(const Eigen::VectorXd& values, JointId joint) const {
        const int index = node[joint.index];
        return index < 0 ? 0.0 : values[index];
    }
    double across(const Eigen::VectorXd& values, const NetworkBranch& branch) const {
        return at(values, branch.a) - at(values, branch.b);
    }
    Eigen::VectorXd solve(JointId into, JointId out_of, double amount) const {
        Eigen::VectorXd right = Eigen::VectorXd::Zero(nodes);
        if (node[into.index] >= 0) right[node[into.index]] += amount;
        if (node[out_of.index] >= 0) right[node[out_of.index]] -= amount;
        return factor.solve(right);
    }
    ReadingSlope slope(const Eigen::VectorXd& adjoint) const;
};

ReadingSlope LinearCircuit::Parts::slope(const Eigen::VectorXd& adjoint) const {
    const Circuit& circuit = *network->circuit;
    ReadingSlope slope;
    slope.tolerance.resize(circuit.branches.size(), 0.0);
    for (std::size_t i = 0; i < circuit.branches.size(); ++i) {
        const NetworkBranch& branch = network->branches[i];
        const double sigma = circuit.branches[i].tolerance;
        const double lever = across(adjoint, branch);
        if (sigma > 0 && !branch.open) {
            // More ohms are a small EMF I dR against the current; a motor's amps are a small current beside it.
            const bool is_motor = std::holds_alternative<Motor>(branch.law);
            slope.tolerance[i] =
                is_motor ? -lever * amps[i] * sigma : lever * conductance[i] * amps[i] * tolerant_ohms(branch) * sigma;
        }
        if (circuit.branches[i].part.valid() && circuit.branches[i].part == circuit.battery &&
            std::holds_alternative<Source>(branch.law)) {
            slope.supply += lever * conductance[i];
        }
    }
    return slope;
}

LinearCircuit::LinearCircuit(const Network& network, const OperatingPoint& point) : parts_(std::make_unique<Parts>()) {
    Parts& parts = *parts_;
    parts.network = &network;
    int count = 0;
    parts.node = find_nodes(network, count);
    parts.nodes = count;
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(count, count);
    matrix.diagonal().array() += 1 / shunt_ohms;
    parts.conductance.resize(network.branches.size(), 0.0);
    parts.amps.resize(network.branches.size(), 0.0);
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        const double amps = i < point.amps.size() && std::isfinite(point.amps[i]) ? point.amps[i] : 0.0;
        const double ohms = slope_ohms(branch, amps, i < point.speed.size() ? point.speed[i] : 0.0);
        parts.amps[i] = amps;
        if (ohms == 0) continue;
        const double conductance = 1 / ohms;
        parts.conductance[i] = conductance;
        const int a = parts.node[branch.a.index];
        const int b = parts.node[branch.b.index];
        if (a == b) continue;
        if (a >= 0) matrix(a, a) += conductance;
        if (b >= 0) matrix(b, b) += conductance;
        if (a >= 0 && b >= 0) {
            matrix(a, b) -= conductance;
            matrix(b, a) -= conductance;
        }
    }
    parts.factor.compute(matrix);
}

LinearCircuit::~LinearCircuit() = default;
LinearCircuit::LinearCircuit(LinearCircuit&&) noexcept = default;
LinearCircuit& LinearCircuit::operator=(LinearCircuit&&) noexcept = default;

ReadingSlope LinearCircuit::volts(JointId red, JointId black) const {
    return parts_->slope(parts_->solve(red, black, 1));
}

ReadingSlope LinearCircuit::amps(BranchId id) const {
    const NetworkBranch& branch = parts_->network->at(id);
    const double conductance = parts_->conductance[id.index];
    ReadingSlope slope = parts_->slope(parts_->solve(branch.a, branch.b, conductance));
    if (id.index < slope.tolerance.size()) {
        const double sigma = parts_->network->circuit->branches[id.index].tolerance;
        slope.tolerance[id.index] -= conductance * parts_->amps[id.index] * tolerant_ohms(branch) * sigma;
    }
    return slope;
}

std::vector<double> LinearCircuit::response(JointId into, JointId out_of) const {
    const Eigen::VectorXd solved = parts_->solve(into, out_of, 1);
    std::vector<double> volts(parts_->network->joints);
    for (std::size_t i = 0; i < volts.size(); ++i)
        volts[i] = parts_->at(solved, JointId{static_cast<std::uint32_t>(i)});
    return volts;
}

double LinearCircuit::volts_per_ohm(JointId red, JointId black, BranchId id) const {
    const Eigen::VectorXd adjoint = parts_->solve(red, black, 1);
    return parts_->across(adjoint, parts_->network->at(id)) * parts_->conductance[id.index] * parts_->amps[id.index];
}

}  // namespace voltfall
