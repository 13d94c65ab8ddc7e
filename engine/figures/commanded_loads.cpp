#include "engine/figures/commanded_loads.hpp"

#include <algorithm>

#include "engine/solve/settled.hpp"

namespace voltfall {

namespace {

bool has_electronics(const Circuit& circuit) {
    return std::any_of(circuit.parts.begin(), circuit.parts.end(),
                       [](const Part& part) { return part.electronics.has_value(); });
}

State state_of(const Circuit& circuit, const PositionFeeds& at) {
    StatePhrase phrase;
    if (at.control.valid()) phrase.settings = {{at.control, {at.position}}};
    return states_of(circuit, phrase).front();
}

void take_out(LoadShares& shares, const std::string& label) {
    std::erase(shares.works_in, label);
    for (SharedPlace& place : shares.places) std::erase(place.positions, label);
    std::erase_if(shares.places, [](const SharedPlace& place) { return place.positions.empty(); });
    for (SharedPlace& place : shares.places) place.every = place.positions.size() == shares.works_in.size();
}

}  // namespace

void leave_out_commanded_off(Feeds& feeds, Simulator& simulator, const Circuit& circuit) {
    if (!has_electronics(circuit)) return;
    for (const PositionFeeds& at : feeds.positions) {
        if (at.control.valid() && at.control == circuit.key) continue;
        const SettleResult settled = settle(simulator, circuit, state_of(circuit, at), {});
        if (!settled) continue;
        for (LoadShares& shares : feeds.loads) {
            if (load_state(*settled, shares.load, nullptr).seen == LoadSeen::dead) take_out(shares, at.label);
        }
    }
}

}  // namespace voltfall
