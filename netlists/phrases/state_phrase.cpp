#include "netlists/phrases/state_phrase.hpp"

#include <algorithm>
#include <array>

#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/state_leads.hpp"
#include "netlists/phrases/state_pieces.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class StateReader {
public:
    StateReader(WordReader& words, const Circuit& circuit, const StateWordsOptions& options)
        : words_(words), circuit_(circuit), options_(options) {}

    StatePhrase read() {
        const std::size_t start = words_.position();
        const auto all = words_.rest();
        while (!words_.at_end() && words_.position() != options_.stop_at.value_or(never)) {
            if (!take_one()) break;
        }
        state_.text = words_as_typed(all.first(words_.position() - start));
        return std::move(state_);
    }

private:
    static constexpr std::size_t never = static_cast<std::size_t>(-1);
    using Taker = void (StateReader::*)();

    bool take_one() {
        const Word& word = *words_.peek();
        if (word.quoted) {
            take_own_condition(state_, words_);
            return true;
        }
        if (take_assignment() || take_named_position() || take_engine()) return true;
        // Behind `blown at hi` it says when, whatever a position is called.
        if (is(word, "after") && options_.after_belongs_to_fuse) return false;
        if (const Taker taker = taker_of(word)) {
            (this->*taker)();
            return true;
        }
        // `on high` is the high position, and no control that is on.
        if (says_position_behind(word) && take_behind_filler(word)) return true;
        return take_position(word) || take_behind_filler(word);
    }

    /// Does a position follow without a comma?
    bool says_position_behind(const Word& word) const {
        const Word* next = words_.peek(1);
        bool exact = false;
        return next && !next->after_comma && is_said(state_fillers(), word.text) &&
               !position_meanings(circuit_, next->text, exact).empty() && !is_exact_name(circuit_, next->text);
    }

    /// `with the blower on high`, `at hi`: words between that say nothing, where a state follows them.
    bool take_behind_filler(const Word& word) {
        if (!is_said(state_fillers(), word.text) || is_exact_name(circuit_, word.text)) return false;
        const std::size_t start = words_.position();
        words_.take();
        if (!words_.at_end() && words_.position() != options_.stop_at.value_or(never) && take_one()) return true;
        words_.rewind(start);
        return false;
    }

    /// The state word is written small; a name of the circuit written just so (`HEAT`) is no state word.
    bool is(const Word& word, std::string_view state_word) const {
        return same_word(word.text, state_word) && (word.text == state_word || !is_exact_name(circuit_, word.text));
    }

    Taker taker_of(const Word& word) const {
        const Word* next = words_.peek(1);
        static constexpr std::array<std::pair<std::string_view, Taker>, 18> takers{
            {{"key", &StateReader::take_key},
             {"unplug", &StateReader::take_unplug},
             {"pull", &StateReader::take_pull},
             {"new", &StateReader::take_new},
             {"jumper", &StateReader::take_jumper},
             {"feed", &StateReader::take_feed},
             {"load", &StateReader::take_load},
             {"tap", &StateReader::take_handled},
             {"turn", &StateReader::take_handled},
             {"heat", &StateReader::take_handled},
             {"cool", &StateReader::take_handled},
             {"wiggle", &StateReader::take_handled},
             {"after", &StateReader::take_after},
             {"hot", &StateReader::take_condition},
             {"cold", &StateReader::take_condition},
             {"wet", &StateReader::take_condition},
             {"bump", &StateReader::take_condition},
             {"earlier", &StateReader::take_when}}};
        if (is(word, "sometimes")) return &StateReader::take_when;
        if (is(word, "lamp")) return next && same_word(next->text, "in") ? &StateReader::take_lamp : nullptr;
        for (const auto& [name, taker] : takers) {
            if (is(word, name)) return taker;
        }
        return nullptr;
    }

    void error(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
        words_.problems().error(code, words_.place(word), std::move(message), std::move(suggestion));
    }

    void take_key() {
        words_.take();
        const Word* word = words_.peek();
        const auto said = take_saying(words_, key_sayings());
        const auto key = said ? key_named(*said) : std::nullopt;
        if (!key) {
            error(ProblemCode::unknown_position, word,
                  word ? "'" + word->text + "' is no position of the key" : "the position of the key is missing",
                  "key off, key acc, key on, key run or key start");
            if (word) words_.take();
            return;
        }
        set_key(*key, word);
    }

    void set_key(KeyPosition key, const Word* word) { voltfall::set_key(state_, key, words_, word); }

    /// `engine running` and `ignition on` say where the key stands. Whether it is on with the engine off is left open.
    bool take_engine() {
        const Word& word = *words_.peek();
        const Word* next = words_.peek(1);
        const bool engine = is_said(engine_sayings().first(1), word.text);
        const bool ignition = is_said(engine_sayings().subspan(1, 1), word.text);
        if (!next || (!engine && !ignition) || is_exact_name(circuit_, word.text) ||
            control_called(circuit_, word.text).valid())
            return false;
        const auto said = find_saying(words_, 1, key_sayings());
        if (!said) return false;
        words_.take();
        take_saying(words_, key_sayings());
        const auto key = key_named(said->word);
        if (engine && key != KeyPosition::run && key != KeyPosition::start) {
            error(ProblemCode::contradiction, &word, "with the engine off the key may be on or off",
                  "write key on or key off");
            return true;
        }
        if (key) set_key(*key, &word);
        return true;
    }

    /// `blower hi`, `S1 3`, `blower on high`: a control and its position. Where the same words may be a reading
    /// (`blower off`), the caller tries both.
    bool take_named_position() {
        const Word& word = *words_.peek();
        const Word* next = words_.peek(1);
        if (!next || next->quoted || next->after_comma || is_state_word(word.text)) return false;
        const PartId id = control_called(circuit_, word.text);
        if (!id.valid() || id == circuit_.key || !circuit_.is_control(id)) return false;
        auto position = position_called(circuit_.part(id), next->text);
        const Word* behind = words_.peek(2);
        const bool filled =
            !position && behind && !behind->quoted && !behind->after_comma && is_said(state_fillers(), next->text);
        if (filled) position = position_called(circuit_.part(id), behind->text);
        if (!position) return false;
        if (options_.doubtful) options_.doubtful->push_back(words_.position());
        for (int i = filled ? 3 : 2; i > 0; --i) words_.take();
        add_setting(id, *position);
        last_assigned_ = id;
        return true;
    }

    /// The named part behind `pull`, `new`, `lamp in` …; a problem when there is none.
    PartId take_part(std::string_view after, std::string_view example) {
        const Word* word = words_.peek();
        if (!word) {
            error(ProblemCode::missing_word, nullptr, "a part is missing after '" + std::string(after) + "'",
                  "for example " + std::string(example));
            return {};
        }
        if (is_left_out(*word, after, example)) return {};
        words_.take();
        if (const PartId part = circuit_.find_part(word->text); part.valid()) return part;
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) {
            const std::string& plug = circuit_.parts[i].plug;
            if (!plug.empty() && same_word(plug, word->text)) return {static_cast<std::uint32_t>(i)};
        }
        std::vector<std::string> names;
        for (const Part& part : circuit_.parts) names.push_back(part.name);
        error(ProblemCode::unknown_part, word, "no part is called '" + word->text + "'",
              did_you_mean_or_known(word->text, names));
        return {};
    }

    bool is_left_out(const Word& word, std::string_view after, std::string_view example) {
        return voltfall::is_left_out(words_, circuit_, word, after, example);
    }

    void take_unplug() {
        words_.take();
        const Word* word = words_.peek();
        if (!word)
            return error(ProblemCode::missing_word, nullptr, "what was unplugged is missing",
                         "for example unplug C303");
        if (is_left_out(*word, "unplug", "unplug C303")) return;
        words_.take();
        const PartId part = circuit_.find_part(word->text);
        if (part.valid() && (circuit_.part(part).fuse || circuit_.part(part).relay)) {
            state_.pulled.push_back(part);
            return;
        }
        if (!part.valid() && circuit_.find_wire(word->text).valid()) {
            return error(ProblemCode::does_not_fit, word, "'" + word->text + "' is a wire and has no plug",
                         "name the connector or part at its end, for example unplug C303");
        }
        const auto place = find_place(circuit_, word->text);
        if (!place) {
            return error(ProblemCode::unknown_place, word, "no connector or part is called '" + word->text + "'",
                         names_near(circuit_, word->text));
        }
        state_.unplugged.push_back(*place);
    }

    void take_pull() {
        words_.take();
        const Word* word = words_.peek();
        const PartId part = take_part("pull", "pull F7");
        if (!part.valid()) return;
        if (!circuit_.part(part).fuse && !circuit_.part(part).relay) {
            return error(ProblemCode::does_not_fit, word, "'" + word->text + "' is neither a fuse nor a relay",
                         "write unplug " + word->text);
        }
        state_.pulled.push_back(part);
    }

    void take_lamp() {
        words_.take();
        words_.take();
        const Word* word = words_.peek();
        const PartId part = take_part("lamp in", "lamp in F7");
        if (!part.valid()) return;
        if (!circuit_.part(part).fuse) {
            return error(ProblemCode::does_not_fit, word,
                         "'" + word->text + "' is no fuse that a lamp could stand in for", "for example lamp in F7");
        }
        state_.lamp_in.push_back(part);
    }

    void take_new() {
        words_.take();
        if (auto plug = take_connector(words_, circuit_)) return state_.new_plugs.push_back(*std::move(plug));
        if (const PartId part = take_part("new", "new M1"); part.valid()) state_.fitted_new.push_back(part);
    }

    void take_jumper() { keep_lead(take_jumper_lead(words_, circuit_)); }
    void take_feed() { keep_lead(take_feed_lead(words_, circuit_)); }
    void take_load() { keep_lead(take_load_lead(words_, circuit_)); }

    void keep_lead(std::optional<AddedLead> lead) {
        if (lead) state_.leads.push_back(*lead);
    }

    /// tap, turn, heat, cool, wiggle.
    void take_handled() {
        const std::string verb = lower(words_.take().text);
        const Word* word = words_.peek();
        if (!word)
            return error(ProblemCode::missing_word, nullptr, "what to " + verb + " is missing",
                         "for example " + verb + " M1");
        if (verb == "tap" || verb == "turn") {
            const PartId part = take_part(verb, verb + " M1");
            if (part.valid()) state_.handled.push_back(verb + " " + circuit_.part(part).name);
            return;
        }
        if (is_left_out(*word, verb, verb + " C101.4")) return;
        words_.take();
        const auto place = find_place(circuit_, word->text);
        if (!place) {
            return error(ProblemCode::unknown_place, word, "nothing is called '" + word->text + "'",
                         names_near(circuit_, word->text));
        }
        state_.handled.push_back(verb + " " + *place);
    }

    void take_after() {
        const Word& word = words_.take();
        const auto time = take_figure(words_, Unit::second, "time", "the time after 'after' is", "after 10min");
        if (time && state_.after_seconds && *state_.after_seconds != *time)
            error(ProblemCode::contradiction, &word, "'after' stands twice, with two times", "write one time");
        if (time) state_.after_seconds = *time;
    }

    void take_condition() { voltfall::take_condition(state_, words_); }

    void take_when() {
        const bool earlier = same_word(words_.take().text, "earlier");
        (earlier ? state_.earlier : state_.sometimes) = true;
    }

    bool take_assignment() {
        const Word& word = *words_.peek();
        const Word* sign = words_.peek(1);
        const bool apart = sign && sign->text == "=" && words_.peek(2);
        const auto equals = word.text.find('=');
        if (!apart && (equals == std::string::npos || equals == 0)) return false;
        const std::string name = apart ? word.text : word.text.substr(0, equals);
        const std::string value = apart ? words_.peek(2)->text : word.text.substr(equals + 1);
        for (int i = apart ? 3 : 1; i > 0; --i) words_.take();
        assign(word, name, value);
        return true;
    }

    void assign(const Word& word, const std::string& name, const std::string& value) {
        const PartId id = control_called(circuit_, name);
        const bool is_key = same_word(name, "key") || (id.valid() && id == circuit_.key);
        if (const auto key = key_named(value); is_key && key) return set_key(*key, &word);
        if (!id.valid()) {
            return error(ProblemCode::unknown_control, &word, "no control is called '" + name + "'",
                         control_advice(circuit_, name));
        }
        const Part& part = circuit_.part(id);
        const auto position = part.position_named(value);
        if (!position) {
            std::vector<std::string> choices;
            for (const Position& p : part.positions) choices.push_back(part.name + "=" + p.name);
            return error(
                ProblemCode::unknown_position, &word, "'" + part.name + "' has no position '" + value + "'",
                choices.empty() ? "'" + part.name + "' is nothing that can be set" : "write " + list_words(choices));
        }
        add_setting(id, *position);
        last_assigned_ = id;
    }

    void add_setting(PartId part, std::size_t position) {
        for (ControlSetting& setting : state_.settings) {
            if (setting.part != part) continue;
            auto& positions = setting.positions;
            if (std::find(positions.begin(), positions.end(), position) == positions.end())
                positions.push_back(position);
            return;
        }
        state_.settings.push_back({part, {position}});
    }

    /// A bare position word. Where it may as well be a name of the circuit, exact case decides; if that does not, the
    /// caller tries both.
    bool take_position(const Word& word) {
        bool exact = false;
        auto found = position_meanings(circuit_, word.text, exact);
        if (found.empty()) return false;
        const bool exact_name = is_exact_name(circuit_, word.text) || is_measurement_word(word.text);
        if (exact_name && !exact) return false;
        const bool name =
            exact_name || (!exact && (find_place(circuit_, word.text) || is_load_word(circuit_, word.text)));
        if (name && options_.doubtful) options_.doubtful->push_back(words_.position());
        if (found.size() > 1 && last_assigned_.valid() && word.after_comma) {
            const auto of_last = [&](const PositionMeaning& m) { return m.part == last_assigned_; };
            const auto same = std::find_if(found.begin(), found.end(), of_last);
            if (same != found.end()) found = {PositionMeaning(*same)};
        }
        words_.take();
        // Several controls at off is one state: nothing is switched on.
        const bool all_off = same_word(word.text, "off");
        if (found.size() == 1 || all_off) {
            for (const PositionMeaning& meaning : found) add_setting(meaning.part, meaning.position);
            return true;
        }
        std::vector<std::string> choices;
        for (const PositionMeaning& m : found) {
            choices.push_back(circuit_.part(m.part).name + "=" + circuit_.part(m.part).positions[m.position].name);
        }
        error(ProblemCode::two_meanings, &word, "'" + word.text + "' is a position of more than one control",
              "write " + list_words(choices));
        return true;
    }

    WordReader& words_;
    const Circuit& circuit_;
    const StateWordsOptions& options_;
    StatePhrase state_;
    PartId last_assigned_;
};

}  // namespace

StatePhrase read_state_words(WordReader& words, const Circuit& circuit, const StateWordsOptions& options) {
    return StateReader(words, circuit, options).read();
}

StatePhrase read_state_words(WordReader& words, const Circuit& circuit) {
    return read_state_words(words, circuit, {});
}

}  // namespace voltfall
