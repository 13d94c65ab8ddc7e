#include "netlists/phrases/state_words.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/phrase_forms.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::pair<std::string_view, KeyPosition>, 5> key_words{{{"off", KeyPosition::off},
                                                                             {"acc", KeyPosition::acc},
                                                                             {"on", KeyPosition::on},
                                                                             {"run", KeyPosition::run},
                                                                             {"start", KeyPosition::start}}};

/// The words that begin a piece of a state.
const std::vector<std::string_view>& state_keywords() {
    static const std::vector<std::string_view> words = first_words(state_forms());
    return words;
}

}  // namespace

bool is_state_word(std::string_view word) {
    const auto& words = state_keywords();
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return same_word(w, word); });
}

std::optional<KeyPosition> key_named(std::string_view word) {
    for (const auto& [name, key] : key_words) {
        if (same_word(name, word)) return key;
    }
    return std::nullopt;
}

bool is_condition_word(std::string_view word) {
    return same_word(word, "hot") || same_word(word, "cold") || same_word(word, "wet") || same_word(word, "bump");
}

std::string_view key_word(KeyPosition key) {
    switch (key) {
        case KeyPosition::off:
            return "off";
        case KeyPosition::acc:
            return "acc";
        case KeyPosition::on:
            return "on";
        case KeyPosition::run:
            return "run";
        case KeyPosition::start:
            return "start";
    }
    return {};
}

bool StatePhrase::empty() const {
    return settings.empty() && !key && unplugged.empty() && pulled.empty() && lamp_in.empty() && fitted_new.empty() &&
           new_plugs.empty() && leads.empty() && conditions.empty() && handled.empty() && !after_seconds && !earlier &&
           !sometimes;
}

bool StatePhrase::operator==(const StatePhrase& o) const {
    return settings == o.settings && key == o.key && unplugged == o.unplugged && pulled == o.pulled &&
           lamp_in == o.lamp_in && fitted_new == o.fitted_new && new_plugs == o.new_plugs && mended == o.mended &&
           leads == o.leads && conditions == o.conditions && handled == o.handled && after_seconds == o.after_seconds &&
           earlier == o.earlier && sometimes == o.sometimes;
}

namespace {

/// No reading or state is given in henries or in feet: a position may be called `mh` or `feet`.
bool is_unit_of_readings(std::string_view word) {
    constexpr std::size_t longest_short = 2;  // `m` and `in` are words of other things
    const auto one = parse_measure("1" + std::string(word));
    const bool length = one && one->unit == Unit::metre && word.size() > longest_short;
    return is_unit_word(word) && !length && !(one && one->unit == Unit::henry);
}

/// Is the word nothing else that may stand where a position does: a number, a value, a unit, a word of a phrase, a
/// load's word, a name of the circuit?
bool is_nothing_else(const Circuit& circuit, std::string_view word) {
    const bool letter = !word.empty() && std::isalpha(static_cast<unsigned char>(word.front())) != 0;
    if (!letter || is_state_word(word) || is_measurement_word(word)) return false;
    return !same_word(word, "open") && !same_word(word, "OL") && !is_unit_of_readings(word) &&
           !is_load_word(circuit, word) && !is_exact_name(circuit, word);
}

}  // namespace

bool stands_alone(const Circuit& circuit, PartId control, std::string_view word) {
    const bool only =
        circuit.controls.size() == 1 && circuit.controls.front().part == control && control != circuit.key;
    return only && is_nothing_else(circuit, word);
}

void note_doubtful_positions(const Circuit& circuit, Problems& problems) {
    const Part* first = nullptr;
    std::vector<std::string> written;
    for (const Control& control : circuit.controls) {
        if (control.part == circuit.key) continue;
        const Part& part = circuit.part(control.part);
        for (const Position& position : part.positions) {
            // Numbers are the trade's own names for speeds; they are written with their control and need no note.
            const bool number = position.name.find_first_not_of("0123456789") == std::string::npos;
            if (number || is_nothing_else(circuit, position.name)) continue;
            if (!first) first = &part;
            written.push_back(part.name + "=" + position.name);
        }
    }
    if (!first) return;
    problems.note(ProblemCode::two_meanings, first->source,
                  "position '" + written.front().substr(written.front().find('=') + 1) +
                      "' is also another word of a phrase, or a name",
                  "in a reading write " + list_words(written));
}

std::string words_as_typed(std::span<const Word> words) {
    std::string text;
    for (const Word& word : words) {
        if (!text.empty()) text += word.after_comma ? ", " : " ";
        text += word.quoted ? "\"" + word.text + "\"" : word.text;
    }
    return text;
}

std::vector<std::string> state_word_list(const Circuit& circuit) {
    std::vector<std::string> words;
    for (const Control& control : circuit.controls) {
        for (const Position& position : circuit.part(control.part).positions) {
            words.push_back(position.name);
            words.push_back(circuit.part(control.part).name + "=" + position.name);
        }
    }
    for (const std::string_view word : state_keywords()) words.emplace_back(word);
    return words;
}

std::optional<StatePhrase> read_state_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    Problems own;
    WordReader words(phrase, own);
    StatePhrase state = read_state_words(words, circuit, {});
    if (const Word* left = words.peek()) {
        std::string advice = did_you_mean(left->text, state_word_list(circuit));
        for (const Part& part : circuit.parts) {
            if (advice.empty() && part.position_named(left->text)) advice = "write " + part.name + "=" + left->text;
        }
        own.error(ProblemCode::unknown_word, words.place(left), "'" + left->text + "' is no word of a state",
                  advice.empty() ? "for example hi, S1=hi, key on, unplug C303" : advice);
    }
    problems.add_all(own);
    if (own.has_errors()) return std::nullopt;
    return state;
}

std::string control_advice(const Circuit& circuit, std::string_view name) {
    const std::vector<std::string> words = state_word_list(circuit);
    if (std::find(words.begin(), words.end(), name) != words.end())
        return "'" + std::string(name) + "' is said by itself, without '='";
    return did_you_mean(name, words);
}

}  // namespace voltfall
