// Current law and power balance from the branch laws and the solver's volts: an independent look at every solution.
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <variant>

#include "engine/solve/simulator.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

namespace {

/// Below these a circuit counts as one in which nothing flows: with the tolerance of 1e-6 they allow 1 nA at a node,
/// the solver's own current tolerance, and what 1 nA is at 30 V.
constexpr double least_amps = 1e-3;
constexpr double least_watts = 3e-2;

/// Rounding of a difference of two volts, as a share of them.
constexpr double rounding = 8 * std::numeric_limits<double>::epsilon();

/// What breaks the current law beyond rounding, and what rounding may do to the power balance. In pieces of microohms a
/// unit in the last place of the volts is nanoamperes.
struct Leftover {
    double amps{};
    double rounding_watts{};
};
Leftover worst_current(const Network& network, const OperatingPoint& point, const Nodes& nodes, Shunts shunts) {
    std::vector<double> error(nodes.count + 1, 0.0);
    std::vector<double> allowed(nodes.count + 1, 0.0);
    std::vector<char> shunted(nodes.count + 1, shunts == Shunts::none);
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        if (std::isnan(point.amps[i])) continue;
        const NetworkBranch& branch = network.branches[i];
        const int a = nodes.of_joint[branch.a.index];
        const int b = nodes.of_joint[branch.b.index];
        error[a] += point.amps[i];
        error[b] -= point.amps[i];
        const double ohms = network.ohms({static_cast<std::uint32_t>(i)});
        if (!(ohms > 0)) continue;
        const double slack =
            rounding * (std::abs(point.volts[branch.a.index]) + std::abs(point.volts[branch.b.index])) / ohms;
        allowed[a] += slack;
        allowed[b] += slack;
    }
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        const int node = nodes.of_joint[joint];
        if (node == 0 || shunted[node]) continue;
        shunted[node] = 1;
        error[node] += point.volts[joint] / shunt_ohms;
        error[0] -= point.volts[joint] / shunt_ohms;
    }
    Leftover left;
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        const double ohms = network.ohms({static_cast<std::uint32_t>(i)});
        if (std::isnan(point.amps[i]) || !(ohms > 0)) continue;
        const double a = std::abs(point.volts[branch.a.index]);
        const double b = std::abs(point.volts[branch.b.index]);
        left.rounding_watts += rounding * (a + b) / ohms * std::max(a, b);
    }
    // The errors of all other nodes add up at the reference: each branch counts once with either sign.
    for (std::size_t node = 1; node < allowed.size(); ++node) allowed[0] += allowed[node];
    for (std::size_t node = 0; node < error.size(); ++node) {
        left.amps = std::max(left.amps, std::abs(error[node]) - allowed[node]);
    }
    return left;
}

Power branch_power(const Network& network, std::size_t index, const OperatingPoint& point) {
    if (std::isnan(point.amps[index])) return {};
    const NetworkBranch& branch = network.branches[index];
    const BranchPoint at{point.volts[branch.a.index] - point.volts[branch.b.index], point.amps[index],
                         point.speed[index]};
    return std::visit([&](const auto& law) { return law.power(branch, network.battery, at); }, branch.law);
}

double shunt_watts(const Network& network, const OperatingPoint& point, const Nodes& nodes) {
    std::vector<char> counted(nodes.count + 1, 0);
    double watts = 0;
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        if (std::exchange(counted[nodes.of_joint[joint]], 1)) continue;
        watts += point.volts[joint] * point.volts[joint] / shunt_ohms;
    }
    return watts;
}

}  // namespace

Balance check_balance(const Network& network, const OperatingPoint& point, Shunts shunts) {
    const Nodes nodes = number_nodes(network);
    double largest = 0;
    Power sum;
    double largest_watts = 0;
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        if (!std::isnan(point.amps[i])) largest = std::max(largest, std::abs(point.amps[i]));
        const Power power = branch_power(network, i, point);
        sum.made += power.made;
        sum.spent += power.spent;
        largest_watts = std::max({largest_watts, std::abs(power.made), std::abs(power.spent)});
    }
    if (shunts == Shunts::idle) sum.spent += shunt_watts(network, point, nodes);
    const Leftover left = worst_current(network, point, nodes, shunts);
    return {left.amps / (largest + least_amps),
            std::max(0.0, std::abs(sum.made - sum.spent) - left.rounding_watts) / (largest_watts + least_watts)};
}

}  // namespace voltfall
