// Current law and power balance from the branch laws and the solver's volts: an independent look at every solution.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>
#include <variant>

#include "engine/solve/simulator.hpp"
#include "netlists/platform/thread_kept.hpp"

namespace voltfall {

namespace {

/// Below these a circuit counts as one in which nothing flows: with the tolerance of 1e-6 they allow 1 nA at a node,
/// the solver's own current tolerance, and what 1 nA is at 30 V.
constexpr double least_amps = 1e-3;
constexpr double least_watts = 3e-2;

/// Rounding of a difference of two volts, as a share of them.
constexpr double rounding = 8 * std::numeric_limits<double>::epsilon();

/// The step of Newton's method below which a simulator ends, as in the deck's options: reltol and vntol.
constexpr double last_step_share = 1e-6;
constexpr double last_step_volts = 1e-7;

/// Amperes by which a junction may miss the current law after the last step d: d^2 / 2 times the second derivative of
/// its exponential, which is its slope over n Vt. It counts where the knee is sharp, as that of a regulated output.
double junction_slack(const Diode& diode, const NetworkBranch& branch, double from, double to, double amps) {
    const double scale = diode.emission * diode_thermal_volts();
    const double step = last_step_share * std::max(std::abs(from), std::abs(to)) + last_step_volts;
    return step * step / (2 * scale * diode.slope_ohms(branch, {from - to, amps, 0}));
}

/// Sums over one network, node by node. In pieces of microohms a unit in the last place of the volts is nanoamperes:
/// what rounding may do is allowed for.
struct Sums {
    std::vector<double> error;    ///< amperes that leave each node
    std::vector<double> allowed;  ///< amperes that rounding may leave there
    std::vector<double> meeting;  ///< amperes of either sign that meet there
    double rounding_watts{0};
    double largest_amps{0};
    double largest_watts{0};
    double largest_emf{0};
    double law_volts{0};  ///< by which the worst straight branch misses its law
    Power power;

    /// All zero, for nodes 0 to `width` - 1; the memory is kept.
    void begin(std::size_t width) {
        error.assign(width, 0.0);
        allowed.assign(width, 0.0);
        meeting.assign(width, 0.0);
        rounding_watts = largest_amps = largest_watts = largest_emf = law_volts = 0;
        power = {};
    }
    /// What rounding of the volts at a branch's ends may do to its amperes.
    void allow(int a, int b, double from, double to, double siemens) {
        const double slack = rounding * (std::abs(from) + std::abs(to)) * siemens;
        allowed[a] += slack;
        allowed[b] += slack;
        rounding_watts += slack * std::max(std::abs(from), std::abs(to));
    }
};

/// A branch that is nothing but ohms, as the resistor that it is; nullopt for any other.
std::optional<Resistor> as_resistor(const Law& law) {
    if (const auto* resistor = std::get_if<Resistor>(&law)) return *resistor;
    if (const auto* contact = std::get_if<Contact>(&law)) return contact->as_resistor();
    return std::nullopt;
}

Power branch_power(const Network& network, const NetworkBranch& branch, const BranchPoint& at) {
    return std::visit([&](const auto& law) { return law.power(branch, network.battery, at); }, branch.law);
}

/// Currents that a simulator measures (of sources) must be those of the volts that it gives: a solution of zeros
/// balances.
void check_law(Sums& sums, const Network& network, const NetworkBranch& branch, double volts, double amps) {
    const auto* source = std::get_if<Source>(&branch.law);
    if (!source || branch.open) return;
    const double emf = source->emf(network.battery, branch.added_ohms);
    sums.largest_emf = std::max(sums.largest_emf, std::abs(emf));
    sums.law_volts = std::max(sums.law_volts, std::abs(volts - emf - amps * (source->ohms + branch.added_ohms)));
}

void add_branches(Sums& sums, const Network& network, const OperatingPoint& point, const Nodes& nodes) {
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        const double amps = point.amps[i];
        if (std::isnan(amps)) continue;
        const NetworkBranch& branch = network.branches[i];
        const double from = point.volts[branch.a.index];
        const double to = point.volts[branch.b.index];
        const int a = nodes.of_joint[branch.a.index];
        const int b = nodes.of_joint[branch.b.index];
        sums.error[a] += amps;
        sums.error[b] -= amps;
        sums.meeting[a] += std::abs(amps);
        sums.meeting[b] += std::abs(amps);
        sums.largest_amps = std::max(sums.largest_amps, std::abs(amps));
        if (const auto resistor = as_resistor(branch.law)) {
            const double siemens = 1 / resistor->ohms_in(branch);
            const double watts = (from - to) * (from - to) * siemens;
            sums.power.spent += watts;
            sums.largest_watts = std::max(sums.largest_watts, watts);
            sums.allow(a, b, from, to, siemens);
            continue;
        }
        const Power power = branch_power(network, branch, {from - to, amps, point.speed[i]});
        sums.power.made += power.made;
        sums.power.spent += power.spent;
        sums.largest_watts = std::max({sums.largest_watts, std::abs(power.made), std::abs(power.spent)});
        check_law(sums, network, branch, from - to, amps);
        if (const auto* diode = std::get_if<Diode>(&branch.law); diode && !branch.open) {
            const double slack = junction_slack(*diode, branch, from, to, amps);
            sums.allowed[a] += slack;
            sums.allowed[b] += slack;
        }
        const double ohms = network.ohms({static_cast<std::uint32_t>(i)});
        if (ohms > 0) sums.allow(a, b, from, to, 1 / ohms);
    }
}

void add_shunts(Sums& sums, const Network& network, const OperatingPoint& point, const Nodes& nodes) {
    auto& counted = kept_by_thread<std::vector<char>, struct CountedNodes>();
    counted.assign(static_cast<std::size_t>(nodes.count) + 1, 0);
    counted[0] = 1;
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        const int node = nodes.of_joint[joint];
        if (std::exchange(counted[node], 1)) continue;
        const double amps = point.volts[joint] / shunt_ohms;
        sums.error[node] += amps;
        sums.error[0] -= amps;
        sums.power.spent += point.volts[joint] * amps;
    }
}

}  // namespace

Balance check_balance(const Network& network, const OperatingPoint& point, Shunts shunts) {
    return check_balance(network, point, number_nodes(network), shunts);
}

Balance check_balance(const Network& network, const OperatingPoint& point, const Nodes& nodes, Shunts shunts) {
    const auto width = static_cast<std::size_t>(nodes.count) + 1;
    auto& sums = kept_by_thread<Sums>();  // its memory is kept, as this runs once a case
    sums.begin(width);
    add_branches(sums, network, point, nodes);
    if (shunts == Shunts::idle) add_shunts(sums, network, point, nodes);
    // The errors of all other nodes add up at the reference: each branch counts once with either sign.
    for (std::size_t node = 1; node < width; ++node) sums.allowed[0] += sums.allowed[node];
    double worst = 0;
    for (std::size_t node = 0; node < width; ++node) {
        // Where hundreds of currents meet, each brings its own error: half of them come in, half go out.
        const double through = std::max(sums.largest_amps, sums.meeting[node] / 2) + least_amps;
        worst = std::max(worst, (std::abs(sums.error[node]) - sums.allowed[node]) / through);
    }
    const double watts = std::abs(sums.power.made - sums.power.spent) - sums.rounding_watts;
    return {worst, std::max(0.0, watts) / (std::max(sums.largest_watts, sums.power.spent) + least_watts),
            sums.law_volts / (sums.largest_emf + 1)};
}

}  // namespace voltfall
