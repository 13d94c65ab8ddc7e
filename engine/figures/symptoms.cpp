#include "engine/figures/symptoms.hpp"

#include <algorithm>

#include "netlists/phrases/loads.hpp"

namespace voltfall {

SymptomTable::SymptomTable(Simulator& simulator, const Circuit& circuit, std::span<const State> states)
    : simulator_(simulator), circuit_(circuit), states_(states), loads_(loads_of(circuit)) {
    for (const State& state : states) {
        healthy_.push_back(settle(simulator, circuit, state, {}));
        if (!healthy_.back() && !failure_) failure_ = healthy_.back().error();
    }
}

std::vector<Noticed> SymptomTable::noticed(std::span<const FaultList> lists) const {
    std::vector<Noticed> found(lists.size());
    for (std::size_t s = 0; s < states_.size(); ++s) {
        std::vector<SettleCase> cases;
        for (const FaultList& list : lists) cases.push_back({&states_[s], list.faults, list.opened});
        const std::vector<CourseResult> courses = run_courses(simulator_, circuit_, cases);
        for (std::size_t i = 0; i < lists.size(); ++i) {
            const CourseResult& course = courses[i];
            std::vector<std::optional<LoadSeen>>& seen = found[i].seen.emplace_back(loads_.size());
            if (!course) continue;
            for (const PartId fuse : course->opened)
                if (std::find(found[i].opened.begin(), found[i].opened.end(), fuse) == found[i].opened.end())
                    found[i].opened.push_back(fuse);
            for (std::size_t l = 0; l < loads_.size() && healthy_[s]; ++l)
                seen[l] = load_state(course->end(), loads_[l], &*healthy_[s]).seen;
        }
    }
    return found;
}

Noticed SymptomTable::noticed_healthy() const {
    const FaultList none;
    return noticed(std::span(&none, 1)).front();
}

std::vector<LoadSeen> SymptomTable::healthy_loads(std::size_t state) const {
    std::vector<LoadSeen> seen;
    for (const PartId load : loads_) seen.push_back(load_state(*healthy_[state], load, &*healthy_[state]).seen);
    return seen;
}

}  // namespace voltfall
