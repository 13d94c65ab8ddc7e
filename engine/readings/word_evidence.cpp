#include "engine/readings/word_evidence.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "engine/readings/care.hpp"
#include "engine/readings/fuse_evidence.hpp"
#include "engine/readings/measurement_facts.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/readings/place_heat.hpp"
#include "engine/readings/quantity_evidence.hpp"
#include "engine/readings/sense_evidence.hpp"
#include "engine/readings/touch.hpp"
#include "engine/readings/word_tables.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

// All chances here are ASSUMED.
constexpr double seen_at_fault = 0.5;         ///< the damage that this fault leaves is seen at its place
constexpr double other_word_at_fault = 0.12;  ///< another word of damage there
constexpr double seen_elsewhere = 0.03;       ///< damage where the fault is not
constexpr double seen_where_care = 0.08;      ///< the same at a place that wears anyway
constexpr double seen_where_softened = 0.4;   ///< damage by heat where the case softens the plastic about a contact
constexpr double clean_at_fault = 0.35;
constexpr double clean_elsewhere = 0.95;
constexpr double good_part_fails = 0.05;  ///< a part said to be good has the fault after all
/// On the bench, its case free of the vehicle, a motor runs well though its winding touches the case.
constexpr double good_though_to_case = 0.5;
// ASSUMED, as nobody has counted them.
constexpr double unknown_word = 0.2;  ///< any one word where the state could not be judged

bool means_clean(std::string_view word) {
    for (const std::string_view clean : {"clean", "whole", "ok", "good", "nothing", "fine", "dry"}) {
        if (same_word(word, clean)) return true;
    }
    return false;
}

bool tells_of_heat(std::string_view word) {
    return word == "melted" || word == "burnt";
}

/// A whole word of those with blanks between them: "crust" is no "rust".
bool has_word(const std::string& list, const std::string& word) {
    return (" " + list + " ").find(" " + word + " ") != std::string::npos;
}

/// Does a fuse's element look whole? A break under the cap or a hairline is overseen, a melted gap hardly (ASSUMED).
double looks_whole(std::optional<double> opened_after, bool is_own_fault) {
    if (is_own_fault) return 0.4;
    return opened_after ? 0.05 : 0.95;
}

/// Of burst, slumped, hairline and melted: short circuits burst a fuse at once, overload melts it slowly (reference
/// trade 1.1, step 5).
double fuse_look(std::string_view word, std::optional<double> opened_after, bool is_own_fault) {
    constexpr double at_once = 0.5;  // seconds
    if (word == "hairline") return is_own_fault ? 0.5 : 0.05;
    if (!opened_after) return is_own_fault ? 0.25 : 0.02;
    const bool burst = *opened_after < at_once;
    if (word == "burst") return burst ? 0.7 : 0.1;
    return burst ? 0.12 : 0.6;
}

double load_probability(const LoadReading& reading, std::size_t state, const WordContext& c) {
    if (!c.healthy.read[state]) return unknown_word;
    const Settled& healthy = *c.healthy.read[state];
    const Perceived p =
        perceive(c.solved.load(state, reading.part, c.healthy), load_state(healthy, reading.part, &healthy));
    const LoadKind kind = load_kind_of(c.questions.circuit->part(reading.part));
    const std::string_view word = load_word_here(kind, reading.word, p.wanted);
    double probability = load_word_probability(word, p);
    const SaidOf& said = find_load_word(word)->said_of;
    const bool own = c.mode && c.mode->part == reading.part;
    if (own && c.mode->is(ModeFact::rubs)) probability = std::max(probability, said.when_it_rubs);
    if (c.mode && c.mode->is(ModeFact::only_sometimes)) probability = std::max(probability, said.when_only_sometimes);
    return probability;
}

double air_probability(const AirReading& reading, std::size_t state, const WordContext& c) {
    const Circuit& circuit = *c.questions.circuit;
    if (!c.healthy.read[state]) return unknown_word;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        const PartId part{static_cast<std::uint32_t>(i)};
        if (load_kind_of(circuit.part(part)) != LoadKind::motor) continue;
        const Settled& healthy = *c.healthy.read[state];
        const Perceived p = perceive(c.solved.load(state, part, c.healthy), load_state(healthy, part, &healthy));
        const bool blocked = c.mode && c.mode->is(ModeFact::air_blocked) && c.mode->part == part;
        return air_word_probability(reading.word, p, blocked);
    }
    return 0.3;
}

double relay_probability(const RelayReading& reading, std::size_t state, const WordContext& c) {
    return relay_word_probability(reading.word, c.solved.read[state]->relay_pulled[reading.part.index]);
}

/// A part tested good clears its own faults; the joints of its socket only where the part is nothing but joints.
bool cleared_by(const Circuit& circuit, const FaultMode& mode, PartId id) {
    const Part& part = circuit.part(id);
    if (!sits_at(circuit, mode, part.name)) return false;
    const bool only_joins = !part.relay && !part.load_branch.valid() && part.contacts.empty() && part.coils.empty();
    return mode.fault_class != FaultClass::joint || only_joins;
}

double cells_probability(const WordObservation& word, const WordContext& c,
                         const std::function<double(double)>& of_volts) {
    double sum = 0;
    for (const auto& [weight, cell] : word.cells) sum += weight * of_volts(c.means[cell]);
    return sum;
}

double states_probability(const WordObservation& word, const std::function<double(std::size_t)>& of_state) {
    double sum = 0;
    for (const auto& [weight, state] : word.states) sum += weight * of_state(state);
    return sum;
}

double ohms_found(std::size_t state, JointId red, JointId black, const WordContext& c) {
    LastOhms* const last = c.last_ohms;
    if (last && last->red.valid() && last->state == state && last->red == red && last->black == black)
        return last->ohms;
    const double ohms = ohms_between(*c.questions.circuit, c.solved, c.questions.states[state].state, red, black);
    if (last) *last = {state, red, black, ohms};
    return ohms;
}

/// Over all joints that the two points may mean, each as likely.
double points_probability(const Point& red, const Point& black, std::size_t state, const WordContext& c,
                          const std::function<double(double ohms, double spread)>& of_ohms) {
    double sum = 0;
    for (const JointId r : red.joints) {
        for (const JointId b : black.joints) {
            const State& of = c.questions.states[state].state;
            sum += of_ohms(ohms_found(state, r, b, c), ohms_spread(*c.questions.circuit, of, r, b));
        }
    }
    return sum / static_cast<double>(red.joints.size() * black.joints.size());
}

}  // namespace

std::optional<double> turned_by_hand(std::string_view word, bool rubs) {
    if (word == "turns-freely") return rubs ? 0.1 : 0.92;
    if (word == "stiff") return rubs ? 0.5 : 0.05;
    if (word == "stuck") return rubs ? 0.4 : 0.02;
    return std::nullopt;
}

bool sits_at(const Circuit& circuit, const FaultMode& mode, const std::string& place) {
    // The contact of an empty system is sound: nothing is to be seen, tested or renewed there.
    if (mode.is(ModeFact::outside_circuit)) return same_word(mode.repair, place);
    if (same_word(mode.place, place) || same_word(mode.repair, place)) return true;
    if (is_cavity_of(mode.place, place)) return true;
    const PartId part = circuit.find_part(place);
    return part.valid() && part == mode.part;
}

double look_probability(const Circuit& circuit, const FaultMode* mode, const LookReading& look,
                        std::optional<double> fuse_opened_after, double softened) {
    const PartId part = circuit.find_part(look.place);
    const bool is_fuse = part.valid() && circuit.part(part).fuse.has_value();
    const bool here = mode && sits_at(circuit, *mode, look.place);
    const bool wears = circuit.care_of(look.place) != nullptr;
    double probability = 1;
    for (const std::string& typed : look.words) {
        const std::string word = lower(typed);
        // Words of one's own are kept, not weighed.
        if (!is_look_word(word)) continue;
        if (const auto by_hand = turned_by_hand(word, here && mode->is(ModeFact::rubs))) {
            probability *= *by_hand;
        } else if (is_fuse && word == "whole") {
            probability *= looks_whole(fuse_opened_after, here && mode->is(ModeFact::fuse_blown));
        } else if (means_clean(word)) {
            probability *= here && !mode->looks.empty() ? clean_at_fault : clean_elsewhere;
        } else if (is_fuse && (word == "burst" || word == "slumped" || word == "hairline" || word == "melted")) {
            const bool burnt_grip = here && mode->fault_class == FaultClass::joint && has_word(mode->looks, word);
            probability *=
                burnt_grip ? seen_at_fault : fuse_look(word, fuse_opened_after, here && mode->is(ModeFact::fuse_blown));
        } else if (here) {
            probability *= has_word(mode->looks, word) ? seen_at_fault : other_word_at_fault;
        } else {
            const double anyway = wears ? seen_where_care : seen_elsewhere;
            probability *= tells_of_heat(word) ? anyway + softened * (seen_where_softened - anyway) : anyway;
        }
        // Two words of one look are one piece of evidence, not two.
        break;
    }
    for (const std::string& typed : look.words) {
        if (here && !means_clean(lower(typed)) && has_word(mode->looks, lower(typed)))
            return std::max(probability, seen_at_fault);
    }
    return probability;
}

namespace {

/// 9 of the 138 real cases tell of a load that runs with its control off.
constexpr double runs_with_control_off = 0.065;

bool says_it_runs_though_off(const Circuit& circuit, const Reading& reading) {
    const auto* load = std::get_if<LoadReading>(&reading.measurement);
    const LoadWord* word = load ? find_load_word(load->word) : nullptr;
    if (!word || word->tells != Tells::that_it_runs) return false;
    bool off = false;
    for (const ControlSetting& setting : reading.state.settings) {
        if (setting.part == circuit.key) continue;
        if (setting.positions != std::vector{circuit.part(setting.part).rest_position}) return false;
        off = true;
    }
    return off;
}

}  // namespace

double word_of_any_cause(const Circuit& circuit, const Reading& reading) {
    const Measurement& measurement = reading.measurement;
    if (says_it_runs_though_off(circuit, reading)) return runs_with_control_off;
    if (const auto* rating = std::get_if<RatingReading>(&measurement)) return number_probability(circuit, *rating);
    if (const auto* quantity = std::get_if<QuantityReading>(&measurement)) return quantity_anyway(circuit, *quantity);
    if (const auto* ohms = std::get_if<OhmsReading>(&measurement)) return ohms_by_chance(ohms->value);
    const auto* fuse = std::get_if<FuseReading>(&measurement);
    if (fuse && fuse->word == "missing") return seat_emptied;
    return facts_of(measurement).anything;
}

double word_probability(const WordObservation& word, const WordContext& c) {
    const Circuit& circuit = *c.questions.circuit;
    const auto over_states = [&](const auto& of_state) { return states_probability(word, of_state); };
    const auto over_volts = [&](const auto& of_volts) { return cells_probability(word, c, of_volts); };
    const auto over_points = [&](const Point& red, const Point& black, const auto& of_ohms) {
        return over_states([&](std::size_t state) { return points_probability(red, black, state, c, of_ohms); });
    };
    return std::visit(
        Overloaded{
            [&](const LoadReading& load) {
                return over_states([&](std::size_t state) { return load_probability(load, state, c); });
            },
            [&](const AirReading& air) {
                return over_states([&](std::size_t state) { return air_probability(air, state, c); });
            },
            [&](const RelayReading& relay) {
                return over_states([&](std::size_t state) { return relay_probability(relay, state, c); });
            },
            [&](const LampReading& lamp) {
                return over_volts(
                    [&](double volts) { return lamp_word_probability(lamp.word, volts, circuit.supply); });
            },
            [&](const LiveReading& live) {
                double sum = 0;
                for (const auto& [weight, index] : word.cells) {
                    const Cell& cell = c.questions.cells[index];
                    const State& state = c.questions.states[cell.state].state;
                    const double untouched = no_touch_chance(circuit, state, cell.red, cell.black);
                    sum += weight * live_probability(live.live, c.means[index], circuit.supply, untouched);
                }
                return sum;
            },
            [&](const OhmsReading& ohms) {
                return over_points(ohms.red, ohms.black, [&](double found, double spread) {
                    return ohms_probability(ohms.value, found, spread);
                });
            },
            [&](const BeepReading& beep) {
                return over_points(beep.red, beep.black,
                                   [&](double found, double) { return beep_probability(beep.beeps, found); });
            },
            [&](const HeatReading& heat) {
                return over_states([&](std::size_t state) { return heat_probability(heat, state, c); });
            },
            [&](const HotterReading& hotter) {
                return over_states([&](std::size_t state) { return hotter_probability(hotter, state, c); });
            },
            [&](const SmellReading& smell) { return smell_probability(smell, c); },
            [&](const QuantityReading& quantity) { return quantity_probability(quantity, c); },
            [&](const DragReading& drag) { return drag_probability(drag, c); },
            [&](const RippleReading& ripple) { return ripple_probability(ripple, c); },
            [&](const FuseReading& fuse) { return fuse_probability(word, fuse, c); },
            [&](const RatingReading& rating) { return rating_probability(rating, c); },
            [&](const GoodReading& good) {
                if (!c.mode || !cleared_by(circuit, *c.mode, good.part)) return 1 - good_part_fails;
                return c.mode->is(ModeFact::winding_to_case) ? good_though_to_case : good_part_fails;
            },
            [&](const LookReading& look) {
                const PartId part = circuit.find_part(look.place);
                const std::vector<PartId>& whole = c.questions.fuses_seen_good;
                // What is melted at a fuse that was seen whole is not its element.
                const bool is_whole = std::find(whole.begin(), whole.end(), part) != whole.end();
                const auto opened =
                    is_whole ? std::nullopt : earliest_opening(c.questions, c.solved, part, StatesAsked::all);
                return look_probability(circuit, c.mode, look, opened, softening_chance(c, look.place));
            },
            // Numbers are no words, and the rest is not weighed.
            alike<VoltsReading, AmpsReading, DutyReading, NoMeasurement>([] { return 1.0; }),
        },
        c.questions.reading(word.reading).measurement);
}

}  // namespace voltfall
