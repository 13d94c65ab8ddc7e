#include "engine/readings/sense_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/heat/heat_values.hpp"
#include "engine/readings/care.hpp"
#include "engine/readings/place_heat.hpp"

namespace voltfall {

namespace {

// All chances here are ASSUMED: nobody has counted them.
constexpr double smells_at_fault = 0.5;
constexpr double smells_hot = 0.4;  ///< a place that gets twice as hot as it should
constexpr double smells_elsewhere = 0.03;
constexpr double loose_pin_at_fault = 0.5;
constexpr double loose_pin_elsewhere = 0.05;
constexpr double uneven_at_fault = 0.7;
constexpr double uneven_elsewhere = 0.04;
/// A rise is known within this factor, one sigma of its natural logarithm; below this many kelvin nobody feels it.
constexpr double rise_spread = 0.6;
constexpr double felt_kelvin = 4;
/// Watts in a place that make it smell, and how much more than when healthy.
constexpr double smelling_watts = 5;
constexpr double smelling_factor = 1.8;

/// Chance of a rise about as large as read, against any rise at all.
double agreement(double read, double predicted) {
    constexpr double anything = 0.1;
    const double z = std::log((read + felt_kelvin) / (predicted + felt_kelvin)) / rise_spread;
    return anything + (1 - anything) * std::exp(-0.5 * z * z);
}

}  // namespace

double smell_probability(const SmellReading& smell, const WordContext& c) {
    const Circuit& circuit = *c.questions.circuit;
    if (!c.mode) return smells_elsewhere;
    const bool burns =
        c.mode->looks.find("melted") != std::string::npos || c.mode->looks.find("burnt") != std::string::npos;
    double probability = smells_elsewhere;
    if (sits_at(circuit, *c.mode, smell.place) && burns) probability = smells_at_fault;
    for (std::size_t s = 0; s < c.solved.read.size(); ++s) {
        // What has opened since no longer heats: the course's first moments count.
        if (!c.solved.courses[s]) continue;
        const PlaceHeat hot = heat_at(circuit, c.solved.courses[s]->faulted, smell.place);
        const PlaceHeat usual = heat_at(circuit, c.healthy.courses[s]->faulted, smell.place);
        if (hot.joint + hot.coils > smelling_watts &&
            hot.joint + hot.coils > smelling_factor * (usual.joint + usual.coils))
            probability = std::max(probability, smells_hot);
    }
    return probability;
}

namespace {

/// Chance of a rise inside a range, such as a hand tells.
double range_agreement(double low, double high, double predicted) {
    constexpr double anything = 0.1;
    constexpr double ranges = 3;  // cold, warm, hot
    const auto below = [&](double rise) {
        if (std::isinf(rise)) return rise > 0 ? 1.0 : 0.0;
        const double z = std::log((std::max(rise, 0.0) + felt_kelvin) / (predicted + felt_kelvin)) / rise_spread;
        return 0.5 * std::erfc(-z / std::numbers::sqrt2);
    };
    return anything / ranges + (1 - anything) * (below(high) - below(low));
}

}  // namespace

double heat_probability(const HeatReading& heat, std::size_t state, const WordContext& c) {
    const Circuit& circuit = *c.questions.circuit;
    const double ambient = heat.rise ? 0 : heat_value(circuit, "ambient_air");
    const double predicted = rise_of(circuit, *c.solved.read[state], heat.place);
    if (heat.value.low < heat.value.high)
        return range_agreement(heat.value.low - ambient, heat.value.high - ambient, predicted);
    return agreement(std::max(heat.value.low - ambient, 0.0), predicted);
}

double hotter_probability(const HotterReading& hotter, std::size_t state, const WordContext& c) {
    if (!std::isfinite(hotter.value.low)) return 0.5;
    const Circuit& circuit = *c.questions.circuit;
    const double hot = rise_of(circuit, *c.solved.read[state], hotter.hotter);
    const double cold = rise_of(circuit, *c.solved.read[state], hotter.colder);
    return agreement(std::max(hotter.value.low, 0.0), std::max(hot - cold, 0.0));
}

double drag_probability(const DragReading& drag, const WordContext& c) {
    const bool here =
        c.mode && c.mode->fault_class == FaultClass::joint && sits_at(*c.questions.circuit, *c.mode, drag.place);
    const double loose = here ? loose_pin_at_fault : loose_pin_elsewhere;
    return drag.word == "good" ? 1 - loose : loose;
}

double ripple_probability(const RippleReading& ripple, const WordContext& c) {
    const bool here = c.mode && c.mode->is(ModeFact::uneven) && c.mode->part == ripple.part;
    const double uneven = here ? uneven_at_fault : uneven_elsewhere;
    return ripple.word == "even" ? 1 - uneven : uneven;
}

}  // namespace voltfall
