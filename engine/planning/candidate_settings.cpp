#include "engine/planning/candidate_settings.hpp"

#include <algorithm>

#include "engine/readings/rounding.hpp"
#include "engine/readings/touch.hpp"

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
           a.fitted_new == b.fitted_new && a.new_plugs == b.new_plugs && a.mended == b.mended &&
           a.handled == b.handled && a.conditions == b.conditions && a.leads.size() == b.leads.size();
}

Supply next_supply(const Circuit& circuit, const Questions& taken, KeyPosition key) {
    // A supply that has been read stays so within this, volts (ASSUMED).
    constexpr double read_supply_sigma = 0.1;
    const std::string word(key_word(key));
    std::optional<Supply> known;
    for (const Supply& supply : taken.supplies) {
        if (supply.told && (supply.key == word || supply.key == word + "?")) known = supply;
    }
    if (known && known->overrides) {
        known->mean = known->solved_at;
        known->sigma = read_supply_sigma;
    }
    return known ? *known : supply_of(circuit, key, false);
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

double next_no_touch(const Circuit& circuit, const Job& job, const Weighed& weighed, const State& state, JointId red,
                     JointId black) {
    const double once = no_touch_chance(circuit, state, red, black);
    const double again = measured_default("no_touch_again");
    double missed = 0;
    for (std::size_t i = 0; i < job.readings.size(); ++i) {
        const auto* volts = std::get_if<VoltsReading>(&job.readings[i].measurement);
        if (!volts || volts->red.joints != std::vector{red} || volts->black.joints != std::vector{black}) continue;
        const std::vector<State> taken_in = states_of(circuit, job.readings[i].state);
        const bool here = std::any_of(taken_in.begin(), taken_in.end(),
                                      [&](const State& taken) { return same_setting(taken, state); });
        if (here) missed = std::max(missed, weighed.wrong[i]);
    }
    return (1 - missed) * once + missed * again;
}

}  // namespace voltfall
