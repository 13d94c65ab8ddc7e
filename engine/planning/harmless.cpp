#include "engine/planning/harmless.hpp"

#include <algorithm>

#include "engine/solve/settled.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/phrases/loads.hpp"

namespace voltfall {

bool is_harmless(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults) {
    const std::vector<State> states = default_states(circuit);
    return std::all_of(states.begin(), states.end(), [&](const State& state) {
        const SettleResult healthy = settle(simulator, circuit, state, {});
        const CourseResult course = run_course(simulator, circuit, state, faults);
        if (!healthy || !course || !course->opened.empty()) return false;
        const std::vector<PartId> loads = loads_of(circuit);
        return std::all_of(loads.begin(), loads.end(), [&](PartId load) {
            return load_state(course->end(), load, &*healthy).seen == load_state(*healthy, load, &*healthy).seen;
        });
    });
}

}  // namespace voltfall
