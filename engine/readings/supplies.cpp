// What is known of the battery's volts before they are read.
#include <algorithm>

#include "engine/readings/questions.hpp"
#include "engine/readings/rounding.hpp"

namespace voltfall {

namespace {

/// A supply that nothing tells lies anywhere from 11.5 to 15 V (23 to 30 V): the normal of the same mean and spread.
constexpr double unknown_supply_mean_12 = 13.25;
constexpr double unknown_supply_sigma_12 = 3.5 / 3.4641016151377544;  // a uniform's width / sqrt(12)

const Source& battery_source(const Circuit& circuit) {
    const std::vector<BranchId>& own = circuit.parts.at(circuit.battery.index).branches;
    const auto is_source = [&](BranchId id) { return std::holds_alternative<Source>(circuit.branch(id).law); };
    const auto found = std::find_if(own.begin(), own.end(), is_source) - own.begin();
    return std::get<Source>(circuit.branch(own.at(static_cast<std::size_t>(found))).law);
}

}  // namespace

Supply supply_of(const Circuit& circuit, KeyPosition key, bool told) {
    const double scale = circuit.supply > 18 ? 2 : 1;
    Supply supply;
    supply.key = std::string(key_word(key)) + (told ? "" : "?");
    supply.told = told;
    supply.mean = told ? battery_source(circuit).emf(battery_state(key)) : unknown_supply_mean_12 * scale;
    supply.sigma = told ? measured_default("tolerance_supply_volts") * scale : unknown_supply_sigma_12 * scale;
    supply.emf = supply.solved_at = supply.mean;
    supply.emf_sigma = supply.sigma;
    supply.overrides = !told;
    return supply;
}

bool reads_supply(const Circuit& circuit, const Measurement& measurement) {
    const auto* volts = std::get_if<VoltsReading>(&measurement);
    const JointId plus = circuit.parts.at(circuit.battery.index).pins.at("+");
    return volts != nullptr && volts->red.joints == std::vector{plus} &&
           volts->black.joints == std::vector{circuit.reference};
}

}  // namespace voltfall
