#include "engine/heat/breaker_cycle.hpp"

#include "netlists/tables/defaults.hpp"

namespace voltfall {

void BreakerCycle::choose_share(const FuseModel& model) {
    const double recloses = default_value("breaker_recloses");
    const Part& part = closed.network.circuit->part(breaker);
    const double amps = closed.point.amps[part.fuse->element.index];
    const auto closed_for = seconds_to_open(model, {recloses, 0}, amps);
    share = closed_for ? *closed_for / (*closed_for + seconds_to_cool(model, {1, 0}, recloses)) : 1;
}

LinearHeat BreakerCycle::heat(const HeatModel& model, const Body& body, const Settled& open) const {
    const LinearHeat with = model.heat(body, closed);
    const LinearHeat without = model.heat(body, open);
    return {share * with.rise + (1 - share) * without.rise, share * with.feedback + (1 - share) * without.feedback};
}

double BreakerCycle::watts(const HeatModel& model, const Body& body, const Settled& open) const {
    return share * model.watts(body, closed) + (1 - share) * model.watts(body, open);
}

}  // namespace voltfall
