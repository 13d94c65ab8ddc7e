#include "engine/planning/ohms_offers.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "engine/planning/candidate_settings.hpp"
#include "engine/readings/in_hand.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/readings/probes.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// An ohmmeter shows no more than this, ohms (ASSUMED).
constexpr double overload_ohms = 1e6;

/// Less is what leads alone show, ohms.
constexpr double least_told = 0.5;

/// The stretches between what the sound thing shows, its spread and the leads taken in, and less and more than that.
std::vector<OhmsOutcome> outcomes_around(double sound) {
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

/// Does the fault lay a path where none should be?
bool adds_path(const FaultMode& mode) {
    const std::vector<Change> changes = mode.changes(mode.size ? mode.size->usual : 0, 0.5);
    return std::any_of(changes.begin(), changes.end(),
                       [](const Change& change) { return std::holds_alternative<Connect>(change); });
}

class OhmsOffers {
public:
    OhmsOffers(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed)
        : simulator_(simulator), circuit_(circuit), job_(job), weighed_(weighed) {
        sound_.ok = true;
    }

    std::vector<OhmsOffer> find() && {
        const auto off = switched_off(circuit_);
        if (!off) return {};
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            for (const InHand& pins : measured_in_hand(circuit_, {i})) add_in_hand(*off, {i}, pins);
        }
        for (const std::string& plug : plugs_beside_paths()) add_harness(*off, plug);
        return std::move(offers_);
    }

private:
    /// Has the job these ohms in this setting?
    bool is_taken(JointId red, JointId black, const State& state) const {
        return std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
            const auto* ohms = std::get_if<OhmsReading>(&reading.measurement);
            if (!ohms || ohms->red.joints.size() != 1 || ohms->black.joints.size() != 1) return false;
            const auto ends = std::minmax(ohms->red.joints.front(), ohms->black.joints.front());
            if (ends != std::minmax(red, black)) return false;
            const State read = states_of(circuit_, reading.state).front();
            return read.unplugged == state.unplugged && read.pulled == state.pulled &&
                   (held_in_hand(circuit_, state, red, black) ? read.positions == state.positions : true);
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
        const double ohms = ohms_between(circuit_, sound_, state, pins.red, pins.black);
        if ((ohms < overload_ohms) == pins.rests_open) return;
        add(std::move(phrase), state, pins.red, pins.black, out ? part.name : part.plug,
            default_value(out ? "minutes_pull" : "minutes_unplug"), ohms);
    }

    void add(StatePhrase phrase, const State& state, JointId red, JointId black, const std::string& place,
             double minutes, double sound_ohms) {
        if (is_taken(red, black, state)) return;
        offers_.push_back({std::move(phrase),
                           {{point_at(circuit_, red), point_at(circuit_, black)}},
                           place,
                           minutes,
                           outcomes_around(sound_ohms)});
    }

    /// The plug that a wire ends at; empty where it ends at none, or at one that is closed.
    std::string plug_of(const WireEnd& end) const {
        if (!end.part.valid()) return {};
        const Part& part = circuit_.part(end.part);
        const std::string& plug = joins(part, Joining::cavities) ? part.name : part.plug;
        return plug.empty() || is_closed(circuit_, plug) ? std::string() : plug;
    }

    /// Those beside what may have laid a path, likeliest first.
    std::vector<std::string> plugs_beside_paths() const {
        constexpr double worth_measuring = 0.03;  // ASSUMED, as of a look
        constexpr double counts = 1e-3;
        constexpr std::size_t most_plugs = 6;
        std::map<std::string, double> chances;
        for (std::size_t i = 0; i < weighed_.all(); ++i) {
            if (weighed_.chance(i) < counts) continue;
            for (const FaultMode* mode : weighed_.suspect(i).modes()) {
                if (!adds_path(*mode)) continue;
                for (const std::string& plug : plugs_beside(*mode)) chances[plug] += weighed_.chance(i);
            }
        }
        std::vector<std::pair<double, std::string>> ranked;
        for (const auto& [plug, chance] : chances) {
            if (chance >= worth_measuring) ranked.emplace_back(-chance, plug);
        }
        std::sort(ranked.begin(), ranked.end());
        std::vector<std::string> plugs;
        for (std::size_t k = 0; k < ranked.size() && k < most_plugs; ++k) plugs.push_back(ranked[k].second);
        return plugs;
    }

    std::set<std::string> plugs_beside(const FaultMode& mode) const {
        std::set<std::string> plugs;
        const std::string owner(read_place(mode.place).owner);
        for (const Wire& wire : circuit_.wires) {
            for (const WireEnd* end : {&wire.from, &wire.to}) {
                const std::string plug = plug_of(*end);
                const bool beside = same_word(wire.name, owner) || same_word(plug, owner) ||
                                    (end->part.valid() && end->part == mode.part);
                if (!plug.empty() && beside) plugs.insert(plug);
            }
        }
        return plugs;
    }

    void add_harness(StatePhrase phrase, const std::string& plug) {
        phrase.key = KeyPosition::off;
        phrase.unplugged = {plug};
        const State state = states_of(circuit_, phrase).front();
        const SettleResult settled = settle(simulator_, circuit_, state, {});
        if (!settled) return;
        std::vector<JointId> ends;
        for (const Wire& wire : circuit_.wires) {
            for (const WireEnd* end : {&wire.from, &wire.to}) {
                if (same_word(plug_of(*end), plug) && is_measurable(*settled, end->joint)) ends.push_back(end->joint);
            }
        }
        const double minutes = default_value("minutes_unplug");
        std::vector<JointId> above_ground;
        for (const JointId end : ends) {
            const double ohms = ohms_between(circuit_, sound_, state, end, circuit_.reference);
            // What is grounded there reads as a short does.
            if (ohms < least_told) continue;
            add(phrase, state, end, circuit_.reference, plug, minutes, ohms);
            if (!(ohms < overload_ohms)) above_ground.push_back(end);
        }
        for (std::size_t a = 0; a < above_ground.size(); ++a) {
            for (std::size_t b = 0; b < a; ++b) {
                const double ohms = ohms_between(circuit_, sound_, state, above_ground[b], above_ground[a]);
                if (ohms > least_told && ohms < overload_ohms)
                    add(phrase, state, above_ground[b], above_ground[a], plug, minutes, ohms);
            }
        }
    }

    /// An ohmmeter goes where nothing is fed.
    bool is_measurable(const Settled& settled, JointId joint) const {
        constexpr double nothing_fed = 0.05;  // volts
        return is_permitted(circuit_, joint) &&
               (settled.floats(joint) || std::abs(settled.point.volts[joint.index]) < nothing_fed);
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    const Job& job_;
    const Weighed& weighed_;
    SolvedCase sound_;
    std::vector<OhmsOffer> offers_;
};

}  // namespace

std::vector<OhmsOffer> ohms_offers(Simulator& simulator, const Circuit& circuit, const Job& job,
                                   const Weighed& weighed) {
    return OhmsOffers(simulator, circuit, job, weighed).find();
}

}  // namespace voltfall
