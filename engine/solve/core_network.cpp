#include "engine/solve/core_network.hpp"

#include <algorithm>
#include <limits>
#include <type_traits>
#include <variant>

namespace voltfall {

namespace {

/// Currents of sources without ohms, from what else flows at their nodes: one end after the other of the tree that they
/// are (`TiedNodes` refuses a ring). The reference's node has no sum of its own.
void add_stiff_currents(const Network& network, const TiedNodes& nodes, OperatingPoint& point) {
    std::vector<double> leaving(static_cast<std::size_t>(nodes.coppers) + 1, 0.0);
    std::vector<char> seen(leaving.size(), 0);
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        const int node = nodes.copper_of_joint[joint];
        if (node == 0 || seen[node]) continue;
        seen[node] = 1;
        leaving[node] = point.volts[joint] / shunt_ohms;
    }
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        if (!std::isfinite(point.amps[i])) continue;
        leaving[nodes.copper_of_joint[network.branches[i].a.index]] += point.amps[i];
        leaving[nodes.copper_of_joint[network.branches[i].b.index]] -= point.amps[i];
    }
    std::vector<TiedNodes::StiffSource> left = nodes.stiff;
    while (!left.empty()) {
        std::vector<int> sources_at(leaving.size(), 0);
        for (const auto& source : left) {
            ++sources_at[source.from];
            ++sources_at[source.to];
        }
        const auto is_end = [&](int node) { return node != 0 && sources_at[node] == 1; };
        const auto leaf = std::find_if(left.begin(), left.end(),
                                       [&](const auto& source) { return is_end(source.from) || is_end(source.to); });
        const double amps = is_end(leaf->from) ? -leaving[leaf->from] : leaving[leaf->to];
        point.amps[leaf->branch] = amps;
        leaving[leaf->from] += amps;
        leaving[leaf->to] -= amps;
        left.erase(leaf);
    }
}

}  // namespace

bool CoreBranches::read(const Network& network) {
    const std::size_t count = network.branches.size();
    shape.resize(count);
    siemens.assign(count, 0.0);
    emf.assign(count, 0.0);
    curved.clear();
    tied.clear();
    highest_emf = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const NetworkBranch& branch = network.branches[i];
        const bool good = std::visit(
            [&](const auto& law) {
                if (const auto volts = law.tie(branch, network.battery)) {
                    shape[i] = BranchShape::tied;
                    tied.push_back(static_cast<std::uint32_t>(i));
                    highest_emf = std::max(highest_emf, std::abs(*volts));
                    return std::isfinite(*volts);
                }
                const auto line = law.line(branch, network.battery);
                if (!line) {
                    shape[i] = BranchShape::curved;
                    curved.push_back(static_cast<std::uint32_t>(i));
                    return true;
                }
                shape[i] = BranchShape::straight;
                siemens[i] = 1 / line->ohms;
                emf[i] = line->emf;
                highest_emf = std::max(highest_emf, std::abs(line->emf));
                constexpr bool may_be_negative = std::is_same_v<std::decay_t<decltype(law)>, Stage>;
                return (line->ohms > 0 || (may_be_negative && line->ohms < 0)) && std::isfinite(line->ohms) &&
                       std::isfinite(line->emf);
            },
            branch.law);
        if (!good) return false;
    }
    return true;
}

OperatingPoint point_of(const Network& network, const TiedNodes& nodes, const CoreBranches& branches,
                        std::span<const double> volts, std::span<double> memory, std::span<const OtherSiemens> others) {
    OperatingPoint point;
    const std::size_t count = network.branches.size();
    point.volts.resize(network.joints);
    point.amps.resize(count);
    point.speed.assign(count, 0.0);
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        const TiedNodes::Place& place = nodes.place_of_copper[nodes.copper_of_joint[joint]];
        point.volts[joint] = volts[place.unknown] + place.offset;
    }
    for (std::size_t i = 0; i < count; ++i) {
        switch (branches.shape[i]) {
            case BranchShape::tied:
                point.amps[i] = std::numeric_limits<double>::quiet_NaN();
                break;
            case BranchShape::straight:
                point.amps[i] = (across(nodes, volts, i) - branches.emf[i]) * branches.siemens[i];
                break;
            case BranchShape::curved: {
                const NetworkBranch& branch = network.branches[i];
                const double own = across(nodes, volts, i);
                point.amps[i] = flow_of(branch, own, memory[i]).amps;
                point.speed[i] = std::visit([&](const auto& law) { return law.shaft_speed(memory[i]); }, branch.law);
                break;
            }
        }
    }
    for (const auto& [i, siemens] : others) point.amps[i] = (across(nodes, volts, i) - branches.emf[i]) * siemens;
    if (!nodes.stiff.empty()) add_stiff_currents(network, nodes, point);
    return point;
}

}  // namespace voltfall
