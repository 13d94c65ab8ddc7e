#include "engine/readings/measurement_facts.hpp"

namespace voltfall {

namespace {

using Facts = MeasurementFacts;

struct FactsOf {
    Facts operator()(const VoltsReading&) const { return {.weighed = WeighedAs::numbers}; }
    Facts operator()(const AmpsReading&) const { return {.weighed = WeighedAs::numbers}; }
    Facts operator()(const LampReading&) const { return {.weighed = WeighedAs::cells, .of_a_moment = true}; }
    Facts operator()(const LiveReading&) const { return {.weighed = WeighedAs::cells, .of_a_moment = true}; }
    Facts operator()(const OhmsReading&) const { return {.weighed = WeighedAs::states, .own_supply = true}; }
    Facts operator()(const BeepReading&) const { return {.weighed = WeighedAs::states, .own_supply = true}; }
    Facts operator()(const HeatReading&) const { return {.weighed = WeighedAs::states}; }
    Facts operator()(const HotterReading&) const { return {.weighed = WeighedAs::states}; }
    Facts operator()(const LoadReading&) const {
        return {.weighed = WeighedAs::states, .of_a_moment = true, .of_a_load = true, .anything = 0.15};
    }
    Facts operator()(const AirReading&) const {
        return {.weighed = WeighedAs::states, .of_a_moment = true, .of_a_load = true, .anything = 0.3};
    }
    Facts operator()(const RelayReading&) const {
        return {.weighed = WeighedAs::states, .of_a_moment = true, .of_a_load = true};
    }
    Facts operator()(const FuseReading&) const { return {.weighed = WeighedAs::whole}; }
    Facts operator()(const RatingReading&) const { return {.weighed = WeighedAs::whole, .anything = 0.1}; }
    Facts operator()(const GoodReading&) const {
        return {.weighed = WeighedAs::whole, .of_a_moment = true, .anything = 0.9};
    }
    Facts operator()(const LookReading&) const { return {.weighed = WeighedAs::whole, .anything = 0.05}; }
    Facts operator()(const SmellReading&) const { return {.weighed = WeighedAs::whole, .anything = 0.05}; }
    Facts operator()(const DragReading&) const { return {.weighed = WeighedAs::whole}; }
    Facts operator()(const RippleReading&) const { return {.weighed = WeighedAs::whole}; }
    Facts operator()(const DutyReading&) const { return {.weighed = WeighedAs::numbers}; }
    Facts operator()(const QuantityReading&) const { return {.weighed = WeighedAs::whole}; }
    Facts operator()(const NoMeasurement&) const { return {}; }
};

}  // namespace

MeasurementFacts facts_of(const Measurement& measurement) {
    return std::visit(FactsOf{}, measurement);
}

VoltsReading mean_volts(const DutyReading& duty, double supply) {
    constexpr double within = 0.03;  // edges, drops of the driver, the meter's own counting (ASSUMED)
    VoltsReading volts;
    volts.red = duty.point;
    volts.value.unit = Unit::volt;
    volts.value.low = (duty.share - within) * supply;
    volts.value.high = (duty.share + within) * supply;
    return volts;
}

bool needs_state(const Measurement& measurement) {
    const WeighedAs weighed = facts_of(measurement).weighed;
    return weighed == WeighedAs::numbers || weighed == WeighedAs::cells || weighed == WeighedAs::states;
}

}  // namespace voltfall
