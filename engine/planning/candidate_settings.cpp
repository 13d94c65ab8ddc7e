#include "engine/planning/candidate_settings.hpp"

#include <algorithm>

#include "engine/readings/accuracy.hpp"
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

std::vector<Supply> supplies_by_now(const Questions& taken) {
    // A supply that has been read stays so within this, volts (ASSUMED).
    constexpr double read_supply_sigma = 0.1;
    std::vector<Supply> supplies = taken.supplies;
    for (Supply& supply : supplies) {
        if (!supply.told || !supply.overrides) continue;
        supply.mean = supply.solved_at;
        supply.sigma = read_supply_sigma;
    }
    return supplies;
}

std::size_t next_supply(const Circuit& circuit, KeyPosition key, std::vector<Supply>& supplies) {
    const std::string word(key_word(key));
    const auto known = std::find_if(supplies.rbegin(), supplies.rend(), [&](const Supply& supply) {
        return supply.told && (supply.key == word || supply.key == word + "?");
    });
    if (known != supplies.rend()) return static_cast<std::size_t>(supplies.rend() - known) - 1;
    supplies.push_back(supply_of(circuit, key, false));
    return supplies.size() - 1;
}

void give_numbers(const Job& job, const Weighed& weighed, Questions& future) {
    // A reading that is so probably wrong tells nothing of the others (ASSUMED).
    constexpr double doubtful_above = 0.25;
    // The latest ones; what they share is known by then.
    constexpr std::size_t most_given = 24;
    const Questions& taken = weighed.questions;
    for (const JobState& state : future.states) {
        const auto first = std::find_if(future.states.begin(), future.states.end(),
                                        [&](const JobState& other) { return other.state == state.state; });
        future.settings.push_back(static_cast<std::size_t>(first - future.states.begin()));
    }
    const auto scale = [&](Instrument instrument) { return scale_sigma(accuracy_of(instrument, job.tools), 1); };
    future.volts_scale = scale(Instrument::meter);
    future.amps_scale = scale(Instrument::clamp);
    for (std::size_t i = taken.numbers.size(); i-- > 0 && future.given.size() < most_given;) {
        const NumberObservation& number = taken.numbers[i];
        const Reading& reading = taken.reading(number.reading);
        if (!number.exact() || number.cells.size() != 1 || weighed.wrong[number.reading] > doubtful_above) continue;
        // What the battery's own volts tell is in the supply already.
        if (reading.state.earlier || reading.state.sometimes || reads_supply(*taken.circuit, reading.measurement))
            continue;
        future.cells.push_back(taken.cells[number.cells.front().second]);
        future.given.push_back({future.cells.size() - 1, number.value.low, number.sigma, number.scale});
    }
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
