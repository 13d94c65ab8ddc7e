#include "engine/heat/acting_limits.hpp"

#include "engine/heat/heat_words.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

ActingLimits::ActingLimits(const HeatModel& model)
    : model_(model), acted_(model.bodies().size(), false), run_again_(model.circuit().parts.size(), false) {}

bool ActingLimits::waits(std::size_t body) const {
    const Body& of = model_.bodies()[body];
    return of.limiter && !acted_[body] && !model_.limiter_modes(of.part).empty();
}

void ActingLimits::add_run_again(std::size_t body, const LinearHeat& heat, double celsius,
                                 std::vector<HeatEvent>& events) const {
    const Body& of = model_.bodies()[body];
    if (!acted_[body] || limit_event(of) != HeatEventKind::cuts_out || run_again_[of.part.index]) return;
    const auto due = seconds_to_cool_to(heat, celsius, of.limit - default_value("fan_cools_by"));
    if (!due) return;
    HeatEvent event;
    event.kind = HeatEventKind::runs_again;
    event.seconds = *due;
    event.part = of.part;
    event.name = model_.circuit().part(of.part).name;
    event.body = of.kind;
    event.what = runs_again_words(event.name);
    events.push_back(event);
}

std::optional<double> ActingLimits::cools_to(std::size_t body) const {
    const Body& of = model_.bodies()[body];
    if (!acted_[body] || limit_event(of) != HeatEventKind::cuts_out || !run_again_[of.part.index]) return std::nullopt;
    return of.limit - default_value("fan_cools_by");
}

bool ActingLimits::has_run_again(PartId part) const {
    return run_again_[part.index];
}

void ActingLimits::act(PartId part) {
    for (std::size_t i = 0; i < acted_.size(); ++i)
        acted_[i] = acted_[i] || (model_.bodies()[i].limiter && model_.bodies()[i].part == part);
}

void ActingLimits::run_again(PartId part) {
    run_again_[part.index] = true;
    for (std::size_t i = 0; i < acted_.size(); ++i)
        if (model_.bodies()[i].part == part) acted_[i] = false;
}

}  // namespace voltfall
