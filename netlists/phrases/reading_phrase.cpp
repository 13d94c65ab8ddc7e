#include "netlists/phrases/reading_phrase.hpp"

#include <algorithm>

#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A phrase without its note and its question mark.
struct Trimmed {
    TypedText phrase;
    std::string note;
    bool doubted{false};
};

std::string without_blanks(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(" \t") - first + 1));
}

std::size_t start_of_note(std::string_view text) {
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '"') quoted = !quoted;
        if (text[i] == '#' && !quoted) return i;
    }
    return text.size();
}

Trimmed trim(const TypedText& typed) {
    Trimmed trimmed{typed, {}, false};
    std::string& text = trimmed.phrase.text;
    const std::size_t note = start_of_note(text);
    if (note < text.size()) trimmed.note = without_blanks(std::string_view(text).substr(note + 1));
    text.resize(note);
    text.resize(text.find_last_not_of(" \t") + 1);
    if (text.empty() || text.back() != '?') return trimmed;
    // `M1.1 to ?` keeps its question mark: there it is the unknown black lead.
    const std::string before = without_blanks(std::string_view(text).substr(0, text.size() - 1));
    const bool is_lead = before.size() > 3 && same_word(std::string_view(before).substr(before.size() - 3), " to");
    if (is_lead) return trimmed;
    trimmed.doubted = true;
    text.pop_back();
    return trimmed;
}

/// One way to read the phrase: where the state ends and what was measured.
struct Parse {
    StatePhrase state;
    Measurement measurement;
    Problems problems;
    std::vector<std::size_t> doubtful;
    std::string measured;  ///< the words of the measurement

    bool whole() const { return !problems.has_errors(); }
};

/// A state with nothing measured is kept where it tells of a new part.
bool stands_alone(const StatePhrase& state) {
    return !state.fitted_new.empty();
}

void check_left_over(WordReader& words, const Circuit& circuit, Problems& problems) {
    const Word* left = words.peek();
    if (!left) return;
    const std::size_t position = words.position();
    Problems unused;
    WordReader again(words.phrase(), unused);
    again.rewind(position);
    const bool is_state = !read_state_words(again, circuit, {}).empty();
    problems.error(words.place(left), "'" + left->text + "' is left over behind a whole reading",
                   is_state ? "what was set stands in front: " + words_as_typed(words.rest()) + "  …"
                            : "one reading a line; put a note behind #");
}

Parse parse(const TypedText& phrase, const Circuit& circuit, std::optional<std::size_t> stop_at) {
    Parse result;
    WordReader words(phrase, result.problems);
    result.state = read_state_words(words, circuit, {stop_at, &result.doubtful, false});
    if (words.at_end() && stands_alone(result.state)) {
        result.measurement = NoMeasurement{};
        return result;
    }
    const auto rest = words.rest();
    const std::size_t start = words.position();
    auto measurement = read_measurement(words, circuit);
    result.measured = words_as_typed(rest.first(words.position() - start));
    if (!measurement) return result;
    result.measurement = std::move(*measurement);
    check_left_over(words, circuit, result.problems);
    return result;
}

std::string shown(const Parse& parse) {
    return "state '" + parse.state.text + "' and '" + parse.measured + "'";
}

/// How to say the setting so that it can be nothing else.
std::string way_out(const Parse& with_setting, const Circuit& circuit) {
    if (with_setting.state.settings.empty()) return "write the names as the file does";
    const ControlSetting& last = with_setting.state.settings.back();
    const Part& part = circuit.part(last.part);
    return "write " + part.name + "=" + part.positions[last.positions.back()].name + " for the setting";
}

/// All parses where exact case did not decide; the first is the one that takes every doubtful word as a setting.
std::vector<Parse> parses(const TypedText& phrase, const Circuit& circuit) {
    std::vector<Parse> all;
    all.push_back(parse(phrase, circuit, std::nullopt));
    const auto doubtful = all.front().doubtful;
    for (const std::size_t stop : doubtful) all.push_back(parse(phrase, circuit, stop));
    return all;
}

}  // namespace

std::optional<Reading> read_reading_phrase(const TypedText& phrase, const std::string& id, const Circuit& circuit,
                                           Problems& problems) {
    const Trimmed trimmed = trim(phrase);
    if (without_blanks(trimmed.phrase.text).empty()) {
        problems.error(phrase.place, "the reading is empty", "for example hi  M1.1 to B1-  10.3V");
        return std::nullopt;
    }
    std::vector<Parse> all = parses(trimmed.phrase, circuit);
    Parse* found = nullptr;
    for (Parse& candidate : all) {
        if (!candidate.whole()) continue;
        if (found) {
            problems.error(phrase.place, "this reads two ways: " + shown(*found) + ", or " + shown(candidate),
                           way_out(*found, circuit));
            return std::nullopt;
        }
        found = &candidate;
    }
    if (!found) {
        problems.add_all(all.front().problems);
        return std::nullopt;
    }
    problems.add_all(found->problems);
    Reading reading;
    reading.id = id;
    reading.state = std::move(found->state);
    reading.measurement = std::move(found->measurement);
    reading.doubted = trimmed.doubted;
    reading.text = without_blanks(std::string_view(phrase.text).substr(0, start_of_note(phrase.text)));
    reading.note = trimmed.note;
    reading.place = phrase.place;
    return reading;
}

}  // namespace voltfall
