#include "engine/readings/quantity_evidence.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

/// One sigma of where a contact moves, as a share of its figure: 0.196 +- 0.02 MPa and 3.14 +- 0.2 MPa are published as
/// limits (reference parts 3.4, S62), taken as two sigma.
constexpr double figure_sigma_share = 0.05;
/// One sigma of a service gauge, Pa, and of a thermometer held to the place, K (ASSUMED).
constexpr double gauge_sigma = 1e4;
constexpr double thermometer_sigma = 2;
/// How far a value beyond `<` or `>` is taken to lie, as a share of it or in K.
constexpr double beyond_share = 0.5;
constexpr double beyond_kelvins = 20;
/// A system's pressure wanders with the air's warmth, as a share of the range searched (ASSUMED).
constexpr double wandering_share = 0.1;

double normal_below(double value, double mean, double sigma) {
    return 0.5 * std::erfc((value - mean) / (sigma * std::sqrt(2.0)));
}

double spread_at(const MovingQuantity& quantity, double figure) {
    const bool pressure = quantity.unit == Unit::pascal;
    return pressure ? std::hypot(gauge_sigma, figure_sigma_share * figure) : thermometer_sigma;
}

/// The value that stands for what was read.
double value_of(const MovingQuantity& quantity, const ReadValue& read) {
    const auto beyond = [&](double end, double way) {
        return quantity.unit == Unit::pascal ? end * (1 + way * beyond_share) : end + way * beyond_kelvins;
    };
    if (!std::isfinite(read.low)) return beyond(read.high, -1);
    if (!std::isfinite(read.high)) return beyond(read.low, 1);
    return (read.low + read.high) / 2;
}

/// The suspect's own pressure or temperature, where it has one.
const Fault* system_fault(std::span<const Fault> faults, PartId contact) {
    const auto found = std::find_if(faults.begin(), faults.end(), [&](const Fault& fault) {
        return fault.mode->part == contact && fault.mode->is(ModeFact::outside_circuit);
    });
    return found == faults.end() ? nullptr : &*found;
}

}  // namespace

double away_probability(const MovingQuantity& quantity, const ReadValue& read) {
    const double value = value_of(quantity, read);
    const auto beyond = [&](double figure) {
        const double below = normal_below(value, figure, spread_at(quantity, figure));
        return quantity.leaves_below() ? below : 1 - below;
    };
    return (beyond(quantity.threshold()) + beyond(quantity.back())) / 2;
}

double quantity_probability(const QuantityReading& reading, const WordContext& c) {
    const Circuit& circuit = *c.questions.circuit;
    double probability = 1;
    for (const PartId contact : contacts_moved(circuit, reading)) {
        const MovingQuantity& quantity = *circuit.part(contact).moved_by;
        const double away = away_probability(quantity, reading.value);
        const Fault* fault = c.mode ? system_fault(c.solved.faults, contact) : nullptr;
        if (!fault) {
            probability *= 1 - away;
            continue;
        }
        probability *= away;
        if (reading.value.low != reading.value.high) continue;
        const SizeRange& range = *fault->mode->size;
        const double wandering =
            std::hypot(spread_at(quantity, fault->size), wandering_share * (range.high - range.low));
        const double apart = (reading.value.low - fault->size) / wandering;
        probability *= std::exp(-0.5 * apart * apart);
    }
    return probability;
}

double quantity_anyway(const Circuit& circuit, const QuantityReading& reading) {
    constexpr double system_is_off = 0.05;  // ASSUMED
    double well = 1;
    for (const PartId contact : contacts_moved(circuit, reading))
        well *= 1 - away_probability(*circuit.part(contact).moved_by, reading.value);
    return system_is_off + (1 - system_is_off) * well;
}

double quantity_found(const Circuit& circuit, const QuantityTest& test, std::span<const Fault> faults) {
    const std::vector<PartId> contacts = contacts_moved(circuit, test);
    for (const PartId contact : contacts) {
        if (const Fault* fault = system_fault(faults, contact)) return fault->size;
    }
    const MovingQuantity& first = *circuit.part(contacts.front()).moved_by;
    if (first.healthy) return *first.healthy;
    // As far from its figures as a system that is well may be.
    const bool pressure = first.unit == Unit::pascal;
    const double way = first.leaves_below() ? 1 : -1;
    return pressure ? first.back() * (1 + way * beyond_share) : first.back() + way * beyond_kelvins;
}

}  // namespace voltfall
