#include "engine/courses/consequences.hpp"

#include <algorithm>

#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A pack that carries less warms by nothing that a limiter would notice, amperes.
constexpr double least_warming_amps = 0.5;

}  // namespace

Consequences::Consequences(Simulator& simulator, const Circuit& circuit)
    : simulator_(simulator), circuit_(circuit), heat_(simulator, circuit), states_(default_states(circuit)) {
    for (const ModePtr& mode : circuit.modes) {
        if (mode->is(ModeFact::limiter_open)) limiters_.push_back(mode);
    }
}

bool Consequences::possible(const FaultMode& mode) const {
    return mode.fault_class == FaultClass::motor && !limiters_.empty();
}

std::vector<State> Consequences::states_with_current(const Fault& cause) const {
    std::vector<SettleCase> cases;
    for (const State& state : states_) cases.push_back({&state, std::span(&cause, 1), {}});
    const std::vector<SettleResult> settled = settle_all(simulator_, circuit_, cases);
    std::vector<State> states;
    for (std::size_t i = 0; i < states_.size(); ++i) {
        const bool flows =
            settled[i] && std::any_of(heat_.bodies().begin(), heat_.bodies().end(), [&](const Body& body) {
                return body.limiter && heat_.amps(body, *settled[i]) > least_warming_amps;
            });
        if (flows) states.push_back(states_[i]);
    }
    return states;
}

std::vector<Fault> Consequences::of(const Fault& cause) const {
    std::vector<Fault> opened;
    if (!possible(*cause.mode)) return opened;
    for (const State& state : states_with_current(cause)) {
        const AftermathResult aftermath = run_aftermath(simulator_, heat_, state, std::span(&cause, 1),
                                                        default_value("aftermath_seconds"), {}, HeatReport::quick);
        if (!aftermath) continue;
        for (const HeatEvent& event : aftermath->events) {
            if (event.kind != HeatEventKind::limiter_opens) continue;
            for (const ModePtr& limiter : limiters_) {
                const bool known = std::any_of(opened.begin(), opened.end(),
                                               [&](const Fault& fault) { return fault.mode == limiter; });
                if (!known && same_word(limiter->place, circuit_.part(event.part).name))
                    opened.push_back({limiter, 0, 0.5, {}, {}});
            }
        }
        if (opened.size() == limiters_.size()) break;
    }
    return opened;
}

std::vector<Fault> Consequences::of(const FaultMode& cause, double size) const {
    const auto row = std::find_if(circuit_.modes.begin(), circuit_.modes.end(),
                                  [&](const ModePtr& mode) { return mode.get() == &cause; });
    if (row == circuit_.modes.end()) return {};
    const std::pair<const FaultMode*, double> key{&cause, size};
    {
        const std::lock_guard lock(lock_);
        if (const auto found = known_.find(key); found != known_.end()) return found->second;
    }
    std::vector<Fault> opened = of(Fault{*row, size, 0.5, {}, {}});
    const std::lock_guard lock(lock_);
    return known_.emplace(key, std::move(opened)).first->second;
}

}  // namespace voltfall
