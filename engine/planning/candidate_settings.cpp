#include "engine/planning/candidate_settings.hpp"

#include <algorithm>

namespace voltfall {

std::optional<StatePhrase> switched_off(const Circuit& circuit) {
    StatePhrase phrase;
    for (const Control& control : circuit.controls) {
        const auto off = circuit.part(control.part).position_named("off");
        if (off && control.part != circuit.key) phrase.settings.push_back({control.part, {*off}});
    }
    return phrase.settings.size() == 1 ? std::optional(phrase) : std::nullopt;
}

bool same_setting(const State& a, const State& b) {
    return a.positions == b.positions && a.unplugged == b.unplugged && a.lamp_in == b.lamp_in && a.pulled == b.pulled &&
           a.fitted_new == b.fitted_new && a.handled == b.handled && a.leads.size() == b.leads.size();
}

void set_control(StatePhrase& phrase, PartId part, std::size_t position) {
    const auto known = std::find_if(phrase.settings.begin(), phrase.settings.end(),
                                    [&](const auto& setting) { return setting.part == part; });
    if (known != phrase.settings.end()) {
        known->positions = {position};
    } else {
        phrase.settings.push_back({part, {position}});
    }
}

}  // namespace voltfall
