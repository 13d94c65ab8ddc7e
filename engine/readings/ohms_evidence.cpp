#include "engine/readings/ohms_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <variant>

#include "engine/readings/in_hand.hpp"
#include "engine/solve/linear_circuit.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double open_above = 1e5;
constexpr double plainly_read = 0.95;
constexpr double misread = 0.02;
/// A meter's leads add up to this where nobody has taken them off the reading (ASSUMED; common practice, no source:
/// touched together, leads read 0.1 to 0.4 ohm).
constexpr double most_lead_ohms = 0.4;
/// Keeps the agreement of small ohms from being too sharp (ASSUMED).
constexpr double least_ohms_told = 0.2;
constexpr double log_sigma = 0.25;
constexpr double beeps_below = 50;

void keep_only(Network& network, const Circuit& circuit, PartId part) {
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const bool of_circuit = i < circuit.branches.size();
        const bool own = of_circuit && circuit.branches[i].part == part;
        const bool socket = of_circuit && circuit.branches[i].sort == BranchSort::socket;
        if (!own || socket) network.branches[i].open = true;
    }
}

bool is_fitted_new(const State& state, PartId part) {
    return std::find(state.fitted_new.begin(), state.fitted_new.end(), part) != state.fitted_new.end();
}

}  // namespace

double ohms_between(const Circuit& circuit, const SolvedCase& solved, const State& state, JointId red, JointId black) {
    Network network(circuit);
    apply_faults(network, solved.faults, state);
    for (const PartId part : solved.opened) {
        if (!is_fitted_new(state, part)) network.at(circuit.part(part).fuse->element).open = true;
    }
    if (const auto part = held_in_hand(circuit, state, red, black)) {
        apply_controls(network, state);
        keep_only(network, circuit, *part);
    } else {
        apply_state(network, state);
    }
    for (NetworkBranch& branch : network.branches) {
        if (sort_of(branch.law) == LawSort::source) branch.open = true;
        // Electronics without a supply do nothing.
        if (auto* stage = std::get_if<Stage>(&branch.law)) *stage = Stage{};
        // The film under the brushes is no fixed ohms; a standing armature is what is measured.
        if (auto* motor = std::get_if<Motor>(&branch.law)) motor->brush_volts = 0;
    }
    const OperatingPoint rest{std::vector<double>(network.joints, 0.0),
                              std::vector<double>(network.branches.size(), 0.0),
                              std::vector<double>(network.branches.size(), 0.0)};
    const std::vector<double> volts = LinearCircuit(network, rest).response(red, black);
    return std::abs(volts[red.index] - volts[black.index]);
}

double ohms_probability(const ReadValue& value, double ohms) {
    const bool is_open = !(ohms < open_above);
    if (value.open) return is_open ? plainly_read : ohms > 1e3 ? 0.4 : misread;
    // An open is more than any bound that a meter shows.
    if (is_open) return std::isfinite(value.high) ? misread : plainly_read;
    const double read = std::clamp(ohms, value.low, std::max(value.low, value.high));
    const double expected = std::clamp(read, ohms, ohms + most_lead_ohms);
    const double z = std::log((read + least_ohms_told) / (expected + least_ohms_told)) / log_sigma;
    return misread + (plainly_read - misread) * std::exp(-0.5 * z * z);
}

double beep_probability(bool beeps, double ohms) {
    return (ohms < beeps_below) == beeps ? plainly_read : misread;
}

}  // namespace voltfall
