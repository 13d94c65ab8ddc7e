#include "engine/planning/harmless.hpp"

#include <algorithm>

#include "netlists/phrases/loads.hpp"

namespace voltfall {

Harmless::Harmless(Simulator& simulator, const Circuit& circuit)
    : simulator_(simulator), circuit_(circuit), loads_(loads_of(circuit)), states_(default_states(circuit)) {
    for (const State& state : states_) sound_.push_back(settle(simulator, circuit, state, {}));
}

bool Harmless::is(std::span<const Fault> faults) const {
    for (std::size_t i = 0; i < states_.size(); ++i) {
        const SettleResult& sound = sound_[i];
        const CourseResult course = run_course(simulator_, circuit_, states_[i], faults);
        if (!sound || !course || !course->opened.empty()) return false;
        const bool all_go = std::all_of(loads_.begin(), loads_.end(), [&](PartId load) {
            return load_state(course->end(), load, &*sound).seen == load_state(*sound, load, &*sound).seen;
        });
        if (!all_go) return false;
    }
    return true;
}

}  // namespace voltfall
