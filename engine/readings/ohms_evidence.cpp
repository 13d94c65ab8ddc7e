#include "engine/readings/ohms_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

#include "engine/readings/in_hand.hpp"
#include "engine/solve/linear_circuit.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double open_above = 1e5;
/// Every joint of a network leaks 1e8 ohm to ground, so that a solver finds its volts: many together are no way either.
constexpr double leaks_alone = 1e6;
constexpr double plainly_read = 0.95;
constexpr double misread = 0.02;
/// A meter's leads add up to this where nobody has taken them off the reading (ASSUMED; common practice, no source:
/// touched together, leads read 0.1 to 0.4 ohm).
constexpr double most_lead_ohms = 0.4;
/// A number that is typed stands for this share of itself, to either side: finer the tables do not go (ASSUMED).
constexpr double half_cell = 0.05;
/// Digits and touching of a usual meter, ohms, one sigma (ASSUMED).
constexpr double meter_sigma = 0.05;
/// One sigma of parts and meter together, of the ohms: a coil, a pack or a wire, and an armature that is measured
/// through its brushes as it happens to stand (ASSUMED).
constexpr double part_sigma = 0.1;
constexpr double armature_sigma = 0.25;
/// What an ohmmeter shows that is not as good as open, ohms.
constexpr double least_shown = 0.1;
constexpr double most_shown = leaks_alone;
/// That a wrong reading, or one of any cause, is "open"; else it is any number, log-uniform (ASSUMED).
constexpr double open_by_chance = 0.3;
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
    const double ohms = std::abs(volts[red.index] - volts[black.index]);
    return ohms < leaks_alone ? ohms : std::numeric_limits<double>::infinity();
}

double ohms_spread(const Circuit& circuit, const State& state, JointId red, JointId black) {
    const auto part = held_in_hand(circuit, state, red, black);
    // Of the harness it is not known what lies between.
    if (!part) return armature_sigma;
    return load_kind_of(circuit.part(*part)) == LoadKind::motor ? armature_sigma : part_sigma;
}

namespace {

struct Range {
    double low{};
    double high{};
};

/// What a typed number or bound stands for, ohms.
Range range_of(const ReadValue& value) {
    const bool is_bound = value.low != value.high;
    const double half = is_bound ? 0 : std::max(value.last_digit / 2, half_cell * (value.low + meter_sigma));
    const double low = value.low - half;
    // Below zero a meter shows zero.
    return {low > 0 ? low : -std::numeric_limits<double>::infinity(), value.high + half};
}

/// So many ohms are no way for a lamp or a coil.
bool reads_open(const ReadValue& value) {
    return value.open || (std::isfinite(value.high) && value.low >= leaks_alone);
}

double log_uniform(const Range& range) {
    const auto share = [](double ohms) {
        return std::log(std::clamp(ohms, least_shown, most_shown) / least_shown) / std::log(most_shown / least_shown);
    };
    return share(range.high) - share(range.low);
}

/// Integral of the normal's distribution function up to z.
double ramp(double z) {
    constexpr double root_two_pi = 2.5066282746310002;
    return z * 0.5 * std::erfc(-z / std::sqrt(2.0)) + std::exp(-0.5 * z * z) / root_two_pi;
}

/// The ohms with anything from none to `most_lead_ohms` of the leads, each as likely, and a normal spread.
double with_leads(const Range& range, double ohms, double sigma) {
    const auto up_to = [&](double read) {
        if (!std::isfinite(read)) return read > 0 ? 1.0 : 0.0;
        return sigma * (ramp((read - ohms) / sigma) - ramp((read - ohms - most_lead_ohms) / sigma)) / most_lead_ohms;
    };
    return std::max(0.0, up_to(range.high) - up_to(range.low));
}

}  // namespace

double ohms_by_chance(const ReadValue& value) {
    return reads_open(value) ? open_by_chance : (1 - open_by_chance) * log_uniform(range_of(value));
}

double ohms_probability(const ReadValue& value, double ohms, double spread) {
    const bool is_open = !(ohms < open_above);
    // So many ohms are called open by some.
    const double called_open = is_open ? plainly_read : ohms > 1e3 ? 0.4 : misread;
    if (reads_open(value)) return called_open;
    const Range range = range_of(value);
    // An open is more than any bound that a meter shows.
    if (is_open) return std::isfinite(range.high) ? misread * log_uniform(range) : plainly_read;
    const double sigma = std::hypot(meter_sigma, spread * ohms);
    return misread * log_uniform(range) + (1 - misread - called_open) * with_leads(range, ohms, sigma);
}

double beep_probability(bool beeps, double ohms) {
    return (ohms < beeps_below) == beeps ? plainly_read : misread;
}

}  // namespace voltfall
