#include "engine/planning/test_candidates.hpp"

#include <algorithm>
#include <map>

#include "engine/diagnosis/job_at_hand.hpp"
#include "engine/planning/candidate_settings.hpp"
#include "engine/planning/extra_states.hpp"
#include "engine/planning/made_conditions.hpp"
#include "engine/planning/ohms_offers.hpp"
#include "engine/planning/tests_of_things.hpp"
#include "engine/readings/probes.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class CandidateFinder {
public:
    CandidateFinder(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed)
        : simulator_(simulator), circuit_(circuit), job_(job), weighed_(weighed) {
        future_.job = std::make_unique<Job>(job);
        future_.job->readings.clear();
        future_.questions.circuit = &circuit;
        future_.questions.job = future_.job.get();
        future_.questions.supplies = supplies_by_now(weighed.questions);
        future_.questions.states = weighed.questions.states;
        future_.questions.fuses_seen_good = weighed.questions.fuses_seen_good;
        future_.condition = condition_now(job, weighed);
    }

    Future find() {
        const bool meter = has_tool(job_, "meter");
        const std::vector<JointId> joints = meter ? permitted_joints(circuit_) : std::vector<JointId>{};
        const std::vector<DropPair> drops = meter ? drop_pairs(circuit_) : std::vector<DropPair>{};
        const bool clamp = has_tool(job_, "clamp");
        for (const StatePhrase& phrase : default_phrases(circuit_)) {
            const std::size_t index = add_state(phrase, states_of(circuit_, phrase).front());
            for (const JointId joint : joints) add_point(index, joint);
            for (const DropPair& drop : drops) {
                const VoltsTest volts = drop.test(circuit_);
                const Sign sign = drop.thing.empty() ? Sign::told : Sign::any;
                if (add_volts(index, volts, both_ends(drop), sign)) future_.tests.back().step = step_of(volts);
            }
            for (std::size_t i = 0; clamp && i < circuit_.wires.size(); ++i)
                add_clamp(index, {static_cast<std::uint32_t>(i)});
            for (std::size_t i = 0; i < circuit_.parts.size(); ++i) add_load(index, {static_cast<std::uint32_t>(i)});
        }
        add_extra_states(drops);
        add_felt_places();
        add_tests_of_things(circuit_, job_, weighed_, future_, last_step_);
        if (meter) add_ohms();
        give_numbers(job_, weighed_, future_.questions);
        return std::move(future_);
    }

private:
    /// With a load in a plug, or a lamp in a blown fuse's seat: the volts across it, and then the drops along the
    /// wires. With a new fuse: whether it holds, and how the loads go. With another relay, or while something is
    /// wiggled: how the loads go.
    void add_extra_states(const std::vector<DropPair>& drops) {
        for (const ExtraState& extra : extra_states(simulator_, circuit_, job_, weighed_)) {
            const std::size_t index = add_state(extra.phrase, extra.state);
            const std::size_t first = future_.tests.size();
            switch (extra.kind) {
                case ExtraState::Kind::load_in_place:
                    add_volts(index, extra.volts, extra.places, Sign::any);
                    break;
                case ExtraState::Kind::lamp_in_seat:
                    add_volts(index, extra.volts, extra.places, Sign::any);
                    if (extra.state.unplugged.empty()) add_drops_behind(index, extra, drops);
                    break;
                case ExtraState::Kind::new_fuse:
                    add_new_fuse(index, extra);
                    add_loads(index, extra);
                    break;
                case ExtraState::Kind::like_relay:
                case ExtraState::Kind::made:
                    add_loads(index, extra);
                    break;
                case ExtraState::Kind::wiggled:
                    add_loads(index, extra);
                    for (std::size_t i = first; i < future_.tests.size(); ++i) watch_for_changes(future_.tests[i]);
                    break;
            }
            for (std::size_t i = first; i < future_.tests.size(); ++i) {
                future_.tests[i].state_minutes = extra.minutes;
                future_.tests[i].makes = extra.makes;
            }
        }
    }

    /// Plugs, sockets and joints that may have a poor contact are felt with the load on.
    void add_felt_places() {
        for (const FeltPlace& felt : felt_places(simulator_, circuit_, job_, weighed_)) {
            const std::size_t state = add_state(felt.phrase, states_of(circuit_, felt.phrase).front());
            TestCandidate test;
            test.kind = TestKind::feel;
            test.test.tested = HeatTest{felt.place, true};
            test.places = {felt.place};
            test.state = state;
            for (const std::string_view word : {"cold", "warm", "hot"}) {
                const std::size_t index = add_word(state, HeatReading{{felt.place, true}, rise_felt(word)});
                if (test.words.empty()) test.first_word = index;
                test.words.emplace_back(word);
            }
            add(std::move(test));
        }
    }

    void add_drops_behind(std::size_t state, const ExtraState& extra, const std::vector<DropPair>& drops) {
        for (const DropPair& drop : drops) {
            if (!drop.thing.empty()) continue;
            std::vector<std::string> places = extra.places;
            for (std::string& end : both_ends(drop)) places.push_back(std::move(end));
            add_volts(state, drop.test(circuit_), places, Sign::any);
        }
    }

    void add_new_fuse(std::size_t state, const ExtraState& extra) {
        constexpr double at_once = 0;
        constexpr double a_while = 60;  // seconds
        TestCandidate test;
        test.kind = TestKind::new_fuse;
        test.test.tested = FuseTest{extra.fitted};
        test.places = extra.places;
        test.state = state;
        test.words = {"holds", "blown at once", "blown after a while"};
        const auto add_outcome = [&](const std::string& word, std::optional<double> after) {
            const std::size_t index = add_word(state, FuseReading{{extra.fitted}, word, {}, after});
            future_.job->readings.back().state = extra.phrase;
            future_.questions.words[index].blown_at = {state};
            return index;
        };
        test.first_word = add_outcome("good", {});
        add_outcome("blown", at_once);
        add_outcome("blown", a_while);
        add(std::move(test));
    }

    /// How they go, or how one of them does.
    void add_loads(std::size_t state, const ExtraState& extra) {
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) {
            const std::size_t before = future_.tests.size();
            add_load(state, {static_cast<std::uint32_t>(i)});
            if (future_.tests.size() == before) continue;
            // Not the plain look at the load: it has a step of its own.
            future_.tests.back().step = ++last_step_;
            future_.tests.back().places = extra.places;
        }
    }

    static void watch_for_changes(TestCandidate& test) {
        test.kind = TestKind::wiggle;
        test.words = {"erratic", "as before"};
    }

    std::size_t add_state(const StatePhrase& phrase, const State& state) {
        JobState future;
        future.state = state;
        future.state.mended = mended_by_now(job_);
        StatePhrase& asked = phrases_[future_.questions.states.size()] = phrase;
        if (future_.condition)
            asked.conditions = future.state.conditions = {std::string(condition_word(*future_.condition))};
        future.found_open = weighed_.questions.fuses_found_blown;
        for (const PartId part : state.fitted_new) future.new_fuse |= circuit_.part(part).fuse.has_value();
        future.supply = next_supply(circuit_, state.key, future_.questions.supplies);
        const Supply& supply = future_.questions.supplies[future.supply];
        if (supply.overrides) future.state.supply_volts = supply.solved_at;
        future_.questions.states.push_back(std::move(future));
        return future_.questions.states.size() - 1;
    }

    /// Has the job a reading of this in this state already? One that is probably wrong may be taken again.
    template <class Same>
    bool taken(std::size_t state, const Same& same) const {
        for (std::size_t i = 0; i < job_.readings.size(); ++i) {
            const Reading& reading = job_.readings[i];
            if (reading.state.earlier || reading.doubted || weighed_.wrong[i] > 0.25 || !same(reading.measurement))
                continue;
            // That it sometimes fails is no look at it now.
            if (reading.state.sometimes) continue;
            for (const State& read : states_of(circuit_, reading.state)) {
                if (same_setting(read, future_.questions.states[state].state)) return true;
            }
        }
        return false;
    }

    bool volts_taken(std::size_t state, JointId red, JointId black) const {
        return taken(state, [&](const Measurement& m) {
            const auto* volts = std::get_if<VoltsReading>(&m);
            const auto is = [](const Point& point, JointId joint) {
                return point.joints.size() == 1 && point.joints[0] == joint;
            };
            return volts && ((is(volts->red, red) && is(volts->black, black)) ||
                             (is(volts->red, black) && is(volts->black, red)));
        });
    }

    /// Is the sign of a drop told, or may the leads stand either way?
    enum class Sign { told, any };

    /// False where the job has it already.
    bool add_volts(std::size_t state, const VoltsTest& volts, std::vector<std::string> places, Sign sign) {
        const JointId red = volts.red.joints.front();
        const JointId black = volts.black.joints.front();
        if (volts_taken(state, red, black)) return false;
        TestCandidate test;
        test.kind = TestKind::volts;
        test.test.tested = volts;
        test.places = std::move(places);
        test.state = state;
        test.no_touch = next_no_touch(circuit_, job_, weighed_, future_.questions.states[state].state, red, black);
        future_.questions.cells.push_back({state, false, red, black, {}, sign == Sign::any});
        add(std::move(test));
        return true;
    }

    /// A drop along a wire takes a lead at either end.
    std::vector<std::string> both_ends(const DropPair& drop) const {
        std::vector<std::string> places{circuit_.joint(drop.red).place};
        const std::string& other = circuit_.joint(drop.black).place;
        if (!same_word(other, places.front()) && drop.black != circuit_.reference) places.push_back(other);
        return places;
    }

    void add_point(std::size_t state, JointId joint) {
        if (joint == circuit_.reference) return;
        const Joint& point = circuit_.joint(joint);
        const VoltsTest volts = volts_between(circuit_, joint, circuit_.reference);
        if (add_volts(state, volts, {point.place}, Sign::told)) future_.tests.back().step = step_of(volts);
        if (future_.tests.empty()) return;
        const bool is_supply = circuit_.parts.at(circuit_.battery.index).pins.at("+") == joint;
        if (is_supply && future_.tests.back().state == state) future_.tests.back().reads_supply = true;
    }

    void add_clamp(std::size_t state, WireId wire_id) {
        const Wire& wire = circuit_.wire(wire_id);
        if (is_closed(circuit_, wire.name)) return;
        if (taken(state, [&](const Measurement& m) {
                const auto* amps = std::get_if<AmpsReading>(&m);
                return amps && amps->wire == wire_id;
            })) {
            future_.questions.cells.push_back({state, true, {}, {}, wire.first_half, true});
            future_.known_amps.push_back(future_.questions.cells.size() - 1);
            return;
        }
        TestCandidate test;
        test.kind = TestKind::clamp;
        test.test.tested = AmpsTest{wire_id, {}};
        test.step = step_of(test.test.tested);
        test.state = state;
        // Either end will do: the nearer one.
        const std::string& from = circuit_.joint(wire.from.joint).place;
        const std::string& to = circuit_.joint(wire.to.joint).place;
        test.places = {circuit_.reach_of(to).minutes < circuit_.reach_of(from).minutes ? to : from};
        future_.questions.cells.push_back({state, true, {}, {}, wire.first_half, true});
        add(std::move(test));
    }

    std::size_t add_word(std::size_t state, Measurement measurement) {
        return add_future_word(future_, std::move(measurement), state);
    }

    void add_load(std::size_t state, PartId id) {
        const Part& part = circuit_.part(id);
        const LoadKind kind = load_kind_of(part);
        if (kind == LoadKind::none) return;
        if (taken(state, [&](const Measurement& m) {
                const auto* load = std::get_if<LoadReading>(&m);
                return load && load->part == id;
            })) {
            return;
        }
        TestCandidate test;
        test.kind = TestKind::load;
        test.test.tested = LoadTest{id, word_of_load(circuit_, id)};
        test.step = step_of(test.test.tested);
        test.state = state;
        for (const std::string_view word : load_words_of(kind)) {
            const std::size_t index = add_word(state, LoadReading{{id, {}}, std::string(word)});
            if (test.words.empty()) test.first_word = index;
            const bool as_it_should = word == "dead" && should_be_off(state, id);
            test.words.emplace_back(as_it_should ? "off" : load_word_said(kind, word));
        }
        add(std::move(test));
    }

    bool should_be_off(std::size_t state, PartId load) {
        const auto [sound, added] = sound_.try_emplace(state, tl::unexpected(SolveFailure{}));
        if (added) sound->second = settle(simulator_, circuit_, future_.questions.states[state].state, {});
        const SettleResult& settled = sound->second;
        return settled && load_state(*settled, load, &*settled).seen == LoadSeen::off;
    }

    void add_ohms() {
        for (const OhmsOffer& offer : ohms_offers(simulator_, circuit_, job_, weighed_)) {
            const std::size_t index = add_state(offer.phrase, states_of(circuit_, offer.phrase).front());
            TestCandidate test;
            test.kind = TestKind::ohms;
            test.test.tested = offer.tested;
            test.places = {offer.place};
            test.state = index;
            test.state_minutes = offer.minutes;
            for (const OhmsOutcome& outcome : offer.outcomes) {
                const std::size_t word = add_word(index, OhmsReading{offer.tested, outcome.value});
                if (test.words.empty()) test.first_word = word;
                test.words.push_back(outcome.words);
            }
            add(std::move(test));
        }
    }

    void add(TestCandidate test) {
        test.test.state = phrases_.at(test.state);
        if (future_.condition) test.state_minutes += minutes_to_keep(*future_.condition);
        if (test.step == 0) test.step = ++last_step_;
        test.cell = future_.questions.cells.empty() ? 0 : future_.questions.cells.size() - 1;
        future_.tests.push_back(std::move(test));
    }

    /// The same measurement in another of the circuit's own states is the same step.
    std::size_t step_of(const Tested& tested) {
        const auto known =
            std::find_if(steps_.begin(), steps_.end(), [&](const auto& step) { return step.first == tested; });
        if (known != steps_.end()) return known->second;
        steps_.emplace_back(tested, ++last_step_);
        return last_step_;
    }

    Simulator& simulator_;
    std::map<std::size_t, SettleResult> sound_;  ///< by state, where a load was asked about
    const Circuit& circuit_;
    const Job& job_;
    const Weighed& weighed_;
    Future future_;
    std::map<std::size_t, StatePhrase> phrases_;  ///< by state of the questions
    std::vector<std::pair<Tested, std::size_t>> steps_;
    std::size_t last_step_{0};
};

}  // namespace

Future future_of(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed) {
    return CandidateFinder(simulator, circuit, job, weighed).find();
}

}  // namespace voltfall
