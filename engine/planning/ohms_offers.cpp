#include "engine/planning/ohms_offers.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/planning/candidate_settings.hpp"
#include "engine/readings/in_hand.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// An ohmmeter shows no more than this, ohms (ASSUMED).
constexpr double overload_ohms = 1e6;

/// The stretches between what the sound thing shows, its spread and the leads taken in, and less and more than that.
std::vector<OhmsOutcome> outcomes_around(double sound) {
    constexpr double least_told = 0.5;  // ohms: less is what leads alone show
    const bool rests_open = !(sound < overload_ohms);
    std::vector<double> figures;
    if (rests_open) {
        figures.push_back(20 * least_told);
    } else {
        constexpr double within = 0.25;
        if ((1 - within) * sound > least_told) figures.push_back((1 - within) * sound);
        figures.push_back((1 + within) * sound + least_told);
        figures.push_back(5 * sound + 20 * least_told);
    }
    std::vector<OhmsOutcome> outcomes;
    double low = -std::numeric_limits<double>::infinity();
    const auto add = [&](double high) {
        OhmsOutcome outcome;
        outcome.value.low = low;
        outcome.value.high = high;
        outcome.value.unit = Unit::ohm;
        const std::string from = two_digits(low, Unit::ohm);
        const std::string to = two_digits(high, Unit::ohm);
        outcome.words = !std::isfinite(low)    ? "below " + to
                        : high < overload_ohms ? from + " to " + to
                                               : "above " + from;
        outcomes.push_back(std::move(outcome));
        low = high;
    };
    for (const double figure : figures) add(figure);
    add(overload_ohms);
    OhmsOutcome open;
    open.value.open = true;
    open.value.unit = Unit::ohm;
    open.words = "open";
    outcomes.push_back(std::move(open));
    return outcomes;
}

class OhmsOffers {
public:
    OhmsOffers(const Circuit& circuit, const Job& job) : circuit_(circuit), job_(job) {}

    std::vector<OhmsOffer> find() && {
        const auto off = switched_off(circuit_);
        if (!off) return {};
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            for (const InHand& pins : measured_in_hand(circuit_, {i})) add_in_hand(*off, {i}, pins);
        }
        return std::move(offers_);
    }

private:
    bool is_taken(const InHand& pins, const State& state) const {
        return std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
            const auto* ohms = std::get_if<OhmsReading>(&reading.measurement);
            return ohms && ohms->red.joints == std::vector{pins.red} && ohms->black.joints == std::vector{pins.black} &&
                   (!pins.position || states_of(circuit_, reading.state).front().positions == state.positions);
        });
    }

    void add_in_hand(StatePhrase phrase, PartId id, const InHand& pins) {
        const Part& part = circuit_.part(id);
        const bool out = is_pulled_out(part);
        if (out) {
            phrase.pulled = {id};
        } else {
            phrase.unplugged = {part.plug};
        }
        if (pins.position) set_control(phrase, id, *pins.position);
        const State state = states_of(circuit_, phrase).front();
        SolvedCase healthy;
        healthy.ok = true;
        const double ohms = ohms_between(circuit_, healthy, state, pins.red, pins.black);
        if (is_taken(pins, state) || (ohms < overload_ohms) == pins.rests_open) return;
        offers_.push_back({std::move(phrase),
                           {{point_at(circuit_, pins.red), point_at(circuit_, pins.black)}},
                           out ? part.name : part.plug,
                           default_value(out ? "minutes_pull" : "minutes_unplug"),
                           outcomes_around(ohms)});
    }

    const Circuit& circuit_;
    const Job& job_;
    std::vector<OhmsOffer> offers_;
};

}  // namespace

std::vector<OhmsOffer> ohms_offers(const Circuit& circuit, const Job& job) {
    return OhmsOffers(circuit, job).find();
}

}  // namespace voltfall
