// What is known of the battery's volts before they are read.
#include "engine/readings/questions.hpp"
#include "engine/readings/rounding.hpp"

namespace voltfall {

namespace {

/// A supply that nothing tells lies anywhere from 11.5 to 15 V (23 to 30 V): the normal of the same mean and spread.
constexpr double unknown_supply_mean_12 = 13.25;
constexpr double unknown_supply_sigma_12 = 3.5 / 3.4641016151377544;  // a uniform's width / sqrt(12)

const Source* battery_source(const Circuit& circuit) {
    if (!circuit.battery.valid()) return nullptr;
    for (const BranchId id : circuit.part(circuit.battery).branches) {
        if (const auto* source = std::get_if<Source>(&circuit.branch(id).law)) return source;
    }
    return nullptr;
}

}  // namespace

Supply supply_of(const Circuit& circuit, KeyPosition key, bool told) {
    const double scale = circuit.supply > 18 ? 2 : 1;
    const Source* source = battery_source(circuit);
    const BatteryState state = battery_state(key);
    Supply supply;
    supply.key = std::string(key_word(key)) + (told ? "" : "?");
    supply.told = told;
    supply.mean = !told ? unknown_supply_mean_12 * scale : source ? source->emf(state) : circuit.supply;
    supply.sigma = told ? measured_default("tolerance_supply_volts") * scale : unknown_supply_sigma_12 * scale;
    supply.emf = supply.solved_at = supply.mean;
    supply.emf_sigma = supply.sigma;
    supply.overrides = !told;
    return supply;
}

bool reads_supply(const Circuit& circuit, const Measurement& measurement) {
    const auto* volts = std::get_if<VoltsReading>(&measurement);
    if (!volts || !circuit.battery.valid()) return false;
    const Part& battery = circuit.part(circuit.battery);
    const auto plus = battery.pins.find("+");
    return plus != battery.pins.end() && volts->red.joints.size() == 1 && volts->black.joints.size() == 1 &&
           volts->red.joints[0] == plus->second && volts->black.joints[0] == circuit.reference;
}

}  // namespace voltfall
