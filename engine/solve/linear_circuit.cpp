#include "engine/solve/linear_circuit.hpp"

#include <cmath>
#include <variant>

#include "engine/solve/connections.hpp"
#include "engine/solve/star_mesh.hpp"
#include "netlists/platform/thread_kept.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

double slope_ohms(const NetworkBranch& branch, const BranchPoint& point) {
    if (is_copper(branch)) return 0;
    return std::visit([&](const auto& law) { return law.slope_ohms(branch, point); }, branch.law);
}

struct LinearCircuit::Parts {
    const Network* network;
    std::vector<BranchEnds> ends;     ///< by branch
    std::vector<int> node;            ///< by joint; 0 is the reference
    std::vector<double> conductance;  ///< by branch; 0 for one piece of copper
    std::vector<double> amps;         ///< by branch
    /// Branches whose tolerance is felt at all, with the factor from their lever to a reading's slope.
    std::vector<std::pair<std::size_t, double>> felt;
    std::vector<std::size_t> supplies;  ///< the battery's sources
    StarMesh mesh;

    double across(const std::vector<double>& values, std::size_t branch) const {
        return values[ends[branch].a] - values[ends[branch].b];
    }
    /// Volts of every node when `amount` amperes go in at one joint and out at another.
    std::vector<double> solve(JointId into, JointId out_of, double amount) const {
        std::vector<double> right(static_cast<std::size_t>(mesh.nodes()) + 1, 0.0);
        right[node[into.index]] += amount;
        right[node[out_of.index]] -= amount;
        right[0] = 0;
        mesh.solve(right);
        return right;
    }
    double tolerant_ohms(std::size_t branch) const {
        const NetworkBranch& of = network->branches[branch];
        return std::visit([&](const auto& law) { return law.tolerant_ohms(of); }, of.law);
    }
    ReadingSlope slope(const std::vector<double>& adjoint) const;
    void find_felt();
};

ReadingSlope LinearCircuit::Parts::slope(const std::vector<double>& adjoint) const {
    ReadingSlope slope;
    slope.tolerance.resize(network->circuit->branches.size(), 0.0);
    for (const auto& [branch, factor] : felt) slope.tolerance[branch] = across(adjoint, branch) * factor;
    for (const std::size_t branch : supplies) slope.supply += across(adjoint, branch) * conductance[branch];
    return slope;
}

void LinearCircuit::Parts::find_felt() {
    // What moves no point by this much, volts, is felt nowhere: a branch in which nothing flows.
    constexpr double unfelt_volts = 1e-10;
    const Circuit& circuit = *network->circuit;
    for (std::size_t i = 0; i < circuit.branches.size(); ++i) {
        const NetworkBranch& branch = network->branches[i];
        const double sigma = circuit.branches[i].tolerance;
        if (sigma > 0 && !branch.open && amps[i] != 0) {
            // More ohms are a small EMF I dR against the current; a motor's amps are a small current beside it.
            const bool is_motor = sort_of(branch.law) == LawSort::motor;
            const double volts = amps[i] * tolerant_ohms(i) * sigma;
            if (is_motor) felt.emplace_back(i, -amps[i] * sigma);
            if (!is_motor && std::abs(volts) > unfelt_volts) felt.emplace_back(i, conductance[i] * volts);
        }
        if (circuit.branches[i].part.valid() && circuit.branches[i].part == circuit.battery &&
            sort_of(branch.law) == LawSort::source) {
            supplies.push_back(i);
        }
    }
}

LinearCircuit::LinearCircuit(const Network& network, const OperatingPoint& point) : parts_(std::make_unique<Parts>()) {
    // Sizes of one fault follow each other: their topology is the same, and its plan is kept.
    static StarMeshPlans plans;
    Parts& parts = *parts_;
    parts.network = &network;
    auto& connections = kept_by_thread<Connections>();
    const Nodes& nodes = connections.look_at(network).nodes();
    parts.node = nodes.of_joint;
    const std::size_t count = network.branches.size();
    parts.ends.reserve(count);
    for (const NetworkBranch& branch : network.branches)
        parts.ends.push_back({parts.node[branch.a.index], parts.node[branch.b.index]});
    parts.conductance.resize(count, 0.0);
    parts.amps.resize(count, 0.0);
    std::shared_ptr<const StarMeshPlan>& plan = connections.plan();
    if (!plan) plan = plans.plan_for(parts.ends, nodes.count);
    parts.mesh.begin(plan, 1 / shunt_ohms);
    for (std::size_t i = 0; i < count; ++i) {
        const NetworkBranch& branch = network.branches[i];
        const double amps = i < point.amps.size() && std::isfinite(point.amps[i]) ? point.amps[i] : 0.0;
        const double volts = point.volts[branch.a.index] - point.volts[branch.b.index];
        const double ohms = slope_ohms(branch, {volts, amps, i < point.speed.size() ? point.speed[i] : 0.0});
        parts.amps[i] = amps;
        if (ohms == 0) continue;
        parts.conductance[i] = 1 / ohms;
        parts.mesh.add(i, parts.ends[i], parts.conductance[i]);
    }
    parts.mesh.eliminate();
    parts.find_felt();
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
        slope.tolerance[id.index] -= conductance * parts_->amps[id.index] * parts_->tolerant_ohms(id.index) * sigma;
    }
    return slope;
}

std::vector<double> LinearCircuit::response(JointId into, JointId out_of) const {
    const std::vector<double> solved = parts_->solve(into, out_of, 1);
    std::vector<double> volts(parts_->network->joints);
    for (std::size_t i = 0; i < volts.size(); ++i) volts[i] = solved[parts_->node[i]];
    return volts;
}

double LinearCircuit::volts_per_ohm(JointId red, JointId black, BranchId id) const {
    const std::vector<double> adjoint = parts_->solve(red, black, 1);
    return parts_->across(adjoint, id.index) * parts_->conductance[id.index] * parts_->amps[id.index];
}

}  // namespace voltfall
