#include "engine/readings/questions.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/found_fuses.hpp"
#include "engine/readings/measurement_facts.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/readings/open_positions.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/readings/touch.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

/// A wrong volts reading lies anywhere up to this share of the nominal supply, a wrong clamp reading up to this many
/// amperes (ASSUMED).
constexpr double wrong_volts_share = 1.3;
constexpr double wrong_amps = 60;
/// Chance of a wrong word to be just this one (about eight words in use, ASSUMED).
constexpr double word_by_chance = 0.04;

/// A number printed on a fuse, or an empty seat, is misread this much more seldom than another reading (ASSUMED).
constexpr double plainly_seen = 0.1;

/// Builds the questions reading by reading.
class QuestionsReader {
public:
    QuestionsReader(Simulator& simulator, const Circuit& circuit, const Job& job)
        : simulator_(simulator), circuit_(circuit), job_(job), found_(simulator, circuit) {
        questions_.circuit = &circuit;
        questions_.job = &job;
    }

    Questions read() {
        for (std::size_t i = 0; i < job_.readings.size(); ++i) {
            add_reading_states(i, renewed_before(i));
            found_.note(job_.readings[i]);
        }
        questions_.fuses_found_blown = found_.open();
        if (guess_states_) add_guessed_states();
        set_supplies();
        for (std::size_t i = 0; i < job_.readings.size(); ++i) add_observations(i);
        return std::move(questions_);
    }

private:
    using Weighted = std::vector<std::pair<double, std::size_t>>;

    std::size_t supply_index(KeyPosition key, bool told) {
        const Supply supply = supply_of(circuit_, key, told);
        for (std::size_t i = 0; i < questions_.supplies.size(); ++i) {
            if (questions_.supplies[i].key == supply.key) return i;
        }
        questions_.supplies.push_back(supply);
        return questions_.supplies.size() - 1;
    }

    /// The reading, with the new fuses that it must have been taken with, though nobody says so.
    Reading renewed_before(std::size_t index) {
        Reading reading = job_.readings[index];
        for (const PartId fuse : found_.renewed_by(reading)) {
            reading.state.fitted_new.push_back(fuse);
            const std::string& name = circuit_.part(fuse).name;
            questions_.notes.push_back(
                fmt::format("{} was found blown, and reading {} shows it whole: taken as renewed; write 'new {}' in "
                            "front of the reading "
                            "after which it was",
                            name, reading.id, name));
        }
        return reading;
    }

    std::size_t state_index(const State& state, const StatePhrase& phrase, bool names_blowing,
                            std::vector<PartId> found_open = {}) {
        JobState wanted;
        wanted.found_open = std::move(found_open);
        wanted.state = state;
        wanted.supply = supply_index(state.key, phrase.key.has_value());
        wanted.earlier = phrase.earlier;
        wanted.sometimes = phrase.sometimes;
        for (const PartId part : state.fitted_new) wanted.new_fuse |= circuit_.part(part).fuse.has_value();
        for (std::size_t i = 0; i < questions_.states.size(); ++i) {
            JobState& known = questions_.states[i];
            const bool same = known.state == wanted.state && known.supply == wanted.supply &&
                              known.earlier == wanted.earlier && known.sometimes == wanted.sometimes &&
                              known.found_open == wanted.found_open;
            if (!same) continue;
            known.names_blowing |= names_blowing && !wanted.earlier && !wanted.new_fuse;
            return i;
        }
        wanted.names_blowing = names_blowing && !wanted.earlier && !wanted.new_fuse;
        questions_.states.push_back(wanted);
        return questions_.states.size() - 1;
    }

    Weighted states_for(const StatePhrase& phrase, bool names_blowing) {
        Weighted states;
        for (const State& state : states_of(circuit_, phrase))
            states.emplace_back(1.0, state_index(state, phrase, names_blowing));
        return states;
    }

    void add_reading_states(std::size_t index, const Reading& reading) {
        std::vector<Weighted>& each = states_.emplace_back();
        if (const auto* fuse = std::get_if<FuseReading>(&reading.measurement)) add_fuse_states(*fuse, index);
        if (!needs_state(reading.measurement)) return;
        // Several positions mean the same reading in each: one observation a state. An unnamed control in the path is
        // one observation over all its positions.
        for (const State& state : states_of(circuit_, reading.state)) {
            Weighted open;
            for (const State& possible : open_positions(simulator_, circuit_, reading, state)) {
                open.emplace_back(1.0, state_index(possible, reading.state, !facts_of(reading.measurement).own_supply,
                                                   found_.open()));
            }
            for (auto& [weight, unused] : open) weight = 1.0 / static_cast<double>(open.size());
            each.push_back(std::move(open));
        }
    }

    void add_fuse_states(const FuseReading& fuse, std::size_t index) {
        blown_at_.resize(job_.readings.size());
        if (fuse.word == "missing") return;  // nothing opened it
        const bool blown = fuse.word != "good";
        if (!blown && job_.readings[index].state.fitted_new.empty()) questions_.fuses_seen_good.push_back(fuse.part);
        if (fuse.at) {
            // A key word in front of the reading holds for the position behind it too.
            StatePhrase at = *fuse.at;
            if (!at.key) at.key = job_.readings[index].state.key;
            // Fuses go while the vehicle is driven, unless somebody says otherwise.
            if (!at.key && !at.settings.empty()) at.key = KeyPosition::run;
            for (const auto& [weight, state] : states_for(at, blown)) blown_at_[index].push_back(state);
            return;
        }
        const StatePhrase& looked = job_.readings[index].state;
        if (!looked.fitted_new.empty() || !looked.settings.empty()) {
            // A new fuse that blew did so in the state that stands in front.
            for (const auto& [weight, state] : states_for(looked, blown)) blown_at_[index].push_back(state);
            return;
        }
        if (!blown) return;
        guess_states_ = true;
    }

    /// A fuse found blown may have gone in any position that no reading names.
    void add_guessed_states() {
        for (const State& state : default_states(circuit_)) {
            const bool named = std::any_of(
                questions_.states.begin(), questions_.states.end(),
                [&](const JobState& known) { return known.names_blowing && known.state.positions == state.positions; });
            if (!named) questions_.states[state_index(state, StatePhrase{}, true)].guessed = true;
        }
    }

    void set_supplies() {
        for (std::size_t i = 0; i < job_.readings.size(); ++i) {
            const auto* volts = std::get_if<VoltsReading>(&job_.readings[i].measurement);
            if (!volts || !reads_supply(circuit_, job_.readings[i].measurement)) continue;
            if (!std::isfinite(volts->value.low + volts->value.high)) continue;
            for (const Weighted& states : states_[i]) {
                for (const auto& [weight, state] : states) {
                    Supply& supply = questions_.supplies[questions_.states[state].supply];
                    supply.solved_at = (volts->value.low + volts->value.high) / 2;
                    supply.overrides = true;
                    supply.told = true;
                }
            }
        }
        for (JobState& state : questions_.states) {
            const Supply& supply = questions_.supplies[state.supply];
            if (supply.overrides) state.state.supply_volts = supply.solved_at;
        }
    }

    std::size_t cell_index(const Cell& cell) {
        questions_.cells.push_back(cell);
        return questions_.cells.size() - 1;
    }

    std::vector<JointId> black_joints(const Point& black) const {
        if (!black.joints.empty()) return black.joints;
        std::vector<JointId> joints{circuit_.reference};
        for (const Part& part : circuit_.parts) {
            if (joins(part, Joining::metal)) joints.push_back(part.pins.begin()->second);
        }
        joints.push_back(circuit_.metal);
        return joints;
    }

    Weighted volt_cells(const Weighted& states, const Point& red, const Point& black, bool any_sign) {
        Weighted cells;
        const std::vector<JointId> blacks = black_joints(black);
        const double parts = static_cast<double>(red.joints.size() * blacks.size());
        for (const auto& [weight, state] : states) {
            for (const JointId r : red.joints) {
                for (const JointId b : blacks) {
                    cells.emplace_back(weight / parts, cell_index({state, false, r, b, {}, any_sign}));
                }
            }
        }
        return cells;
    }

    double wrong_chance(const Reading& reading) const {
        return measured_default(reading.doubted ? "wrong_doubted" : "wrong_reading");
    }

    void set_sigmas(NumberObservation& number, Instrument instrument) const {
        const Accuracy accuracy = accuracy_of(instrument, job_.tools);
        number.sigma = instrument_sigma(accuracy, number.value);
        if (number.exact()) number.scale = std::copysign(scale_sigma(accuracy, number.value.low), number.value.low);
    }

    /// Volts that the job has read in that state.
    std::vector<const VoltsReading*> volts_in(std::size_t state) const {
        std::vector<const VoltsReading*> list;
        for (std::size_t i = 0; i < job_.readings.size(); ++i) {
            const auto* volts = std::get_if<VoltsReading>(&job_.readings[i].measurement);
            if (volts && states_[i].front().front().second == state) list.push_back(volts);
        }
        return list;
    }

    double untouched_chance(std::size_t state, const VoltsReading& zero) const {
        return zero_without_touch(circuit_, questions_.states[state].state, zero, volts_in(state));
    }

    void add_volts(std::size_t index, const VoltsReading& volts) {
        for (const Weighted& states : states_[index]) add_volts_in(states, index, volts);
    }

    void add_volts_in(const Weighted& states, std::size_t index, const VoltsReading& volts) {
        NumberObservation number;
        number.reading = index;
        number.value = volts.value;
        set_sigmas(number, Instrument::meter);
        number.wrong = {wrong_chance(job_.readings[index]), 1 / (wrong_volts_share * circuit_.supply)};
        if (shows_zero(volts.value) && !reads_supply(circuit_, job_.readings[index].measurement)) {
            // No contact under the probe also reads zero.
            number.wrong = {std::max(number.wrong.chance, untouched_chance(states.front().second, volts)),
                            std::exp(log_normal_density(0, std::hypot(untouched_sigma, number.sigma)))};
        }
        number.cells = volt_cells(states, volts.red, volts.black, !volts.across.empty());
        questions_.numbers.push_back(std::move(number));
    }

    const Supply& supply_in(std::size_t state) const { return questions_.supplies[questions_.states[state].supply]; }
    void add_duty(std::size_t index, const DutyReading& duty) {
        for (const Weighted& states : states_[index])
            add_volts_in(states, index, mean_volts(duty, supply_in(states.front().second).mean));
    }

    void add_amps(std::size_t index, const AmpsReading& amps) {
        if (!amps.what.empty()) return note_unweighed(index, amps.what);
        for (const Weighted& states : states_[index]) {
            NumberObservation number;
            number.reading = index;
            number.value = amps.value;
            set_sigmas(number, Instrument::clamp);
            number.wrong = {wrong_chance(job_.readings[index]), 1 / wrong_amps};
            const Wire& wire = circuit_.wire(amps.wire);
            for (const auto& [weight, state] : states) {
                number.cells.emplace_back(weight / 2, cell_index({state, true, {}, {}, wire.first_half, true}));
                number.cells.emplace_back(weight / 2, cell_index({state, true, {}, {}, wire.second_half, true}));
            }
            questions_.numbers.push_back(std::move(number));
        }
    }

    void add_word(std::size_t index, const Weighted& states, Weighted cells) {
        WordObservation word;
        word.reading = index;
        word.wrong = wrong_chance(job_.readings[index]);
        const Measurement& read = job_.readings[index].measurement;
        const auto* fuse = std::get_if<FuseReading>(&read);
        if (std::holds_alternative<RatingReading>(read) || (fuse && fuse->word == "missing"))
            word.wrong *= plainly_seen;
        const auto* ohms = std::get_if<OhmsReading>(&read);
        word.by_chance = ohms ? ohms_by_chance(ohms->value) : word_by_chance;
        word.states = states;
        word.cells = std::move(cells);
        if (index < blown_at_.size()) word.blown_at = blown_at_[index];
        questions_.words.push_back(std::move(word));
    }

    void add_lamp(std::size_t index, const LampReading& lamp) {
        double watts = default_value("test_lamp_watts");
        for (const Tool& tool : job_.tools) {
            if (tool.name == "lamp" && tool.watts > 0) watts = tool.watts;
        }
        const std::vector<JointId> blacks = black_joints(lamp.black);
        for (const Weighted& states : states_[index]) {
            Weighted cells;
            for (const auto& [weight, state] : states) {
                for (const JointId red : lamp.red.joints) {
                    for (const JointId black : blacks) {
                        JobState loaded = questions_.states[state];
                        // The lamp is a load of its own: a poor joint that a meter does not see drops volts under it.
                        loaded.state.leads.push_back({AddedLead::Kind::load, red, black, watts});
                        loaded.names_blowing = false;
                        questions_.states.push_back(loaded);
                        const double share = weight / static_cast<double>(lamp.red.joints.size() * blacks.size());
                        cells.emplace_back(share,
                                           cell_index({questions_.states.size() - 1, false, red, black, {}, true}));
                    }
                }
            }
            add_word(index, states, std::move(cells));
        }
    }

    void add_observations(std::size_t index) {
        const auto as_whole = [&] { add_word(index, {}, {}); };
        std::visit(Overloaded{
                       [&](const VoltsReading& volts) { add_volts(index, volts); },
                       [&](const AmpsReading& amps) { add_amps(index, amps); },
                       [&](const LampReading& lamp) { add_lamp(index, lamp); },
                       [&](const LiveReading& live) {
                           for (const Weighted& states : states_[index])
                               add_word(index, states, volt_cells(states, live.red, live.black, true));
                       },
                       [&](const BeepReading& beep) { add_beep(index, beep); },
                       alike<OhmsReading, LoadReading, AirReading, RelayReading, HeatReading, HotterReading>(
                           [&] { add_in_states(index); }),
                       alike<FuseReading, GoodReading, LookReading, SmellReading, DragReading, RippleReading,
                             RatingReading, QuantityReading>(as_whole),
                       [&](const DutyReading& duty) { add_duty(index, duty); },
                       [&](const NoMeasurement&) { note_unweighed(index, "no measurement"); },
                   },
                   job_.readings[index].measurement);
    }

    void add_in_states(std::size_t index) {
        for (const Weighted& states : states_[index]) add_word(index, states, {});
    }

    /// A beep whose second point nobody told says nothing.
    void add_beep(std::size_t index, const BeepReading& beep) {
        if (beep.black.joints.empty()) return note_unweighed(index, "beep");
        add_in_states(index);
    }

    void note_unweighed(std::size_t index, const std::string& what) {
        questions_.notes.push_back(fmt::format("not weighed yet: reading {} ({})", job_.readings[index].id, what));
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    const Job& job_;
    FoundFuses found_;
    Questions questions_;
    bool guess_states_{false};
    std::vector<std::vector<Weighted>> states_;       ///< by reading: one entry an observation
    std::vector<std::vector<std::size_t>> blown_at_;  ///< by reading
};

bool any_number_in_unknown_supply(const Questions& questions) {
    for (const Cell& cell : questions.cells) {
        if (!questions.supplies[questions.states[cell.state].supply].told) return true;
    }
    return false;
}

}  // namespace

Questions make_questions(Simulator& simulator, const Circuit& circuit, const Job& job) {
    Questions questions = QuestionsReader(simulator, circuit, job).read();
    questions.supply_unknown = any_number_in_unknown_supply(questions);
    if (questions.supply_unknown) {
        questions.notes.push_back(fmt::format("supply unknown ({} to {} V): measure B1+ to B1- in the same state first",
                                              circuit.supply > 18 ? "23" : "11.5", circuit.supply > 18 ? "30" : "15"));
    }
    return questions;
}

}  // namespace voltfall
