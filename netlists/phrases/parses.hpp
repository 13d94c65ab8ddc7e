// A phrase of a state and what follows it, where a word may be a setting or a name: every way to read it.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "netlists/phrases/state_words.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// A phrase without its note (`# …`) and its question mark.
struct TrimmedPhrase {
    TypedText phrase;
    std::string note;
    bool doubted{false};
};
TrimmedPhrase trim_phrase(const TypedText& typed);

/// The text between blanks, without the note.
std::string without_note(const TypedText& typed);

/// One way to read a phrase: where the state ends and what stands behind it.
template <class What>
struct Parse {
    StatePhrase state;
    std::optional<What> what;
    Problems problems;
    std::vector<std::size_t> doubtful;  ///< positions of words that may be a setting or a name
    std::string said;                   ///< the words behind the state

    bool whole() const { return what && !problems.has_errors(); }
};

/// Reads what follows the state; what stands behind it is left in the reader.
template <class What>
using WhatReader = std::function<std::optional<What>(WordReader& words, const StatePhrase& state)>;

/// Says what is left over behind a whole `what` ("reading").
void check_left_over(WordReader& words, const Circuit& circuit, std::string_view what);

/// Does the word at that position begin a measurement?
bool begins_measurement(const TypedText& phrase, std::size_t position);

/// How to say the last setting so that it can be nothing else.
std::string way_out(const StatePhrase& state, const Circuit& circuit);

template <class What>
Parse<What> parse_phrase(const TypedText& phrase, const Circuit& circuit, std::optional<std::size_t> stop_at,
                         const WhatReader<What>& read, std::string_view name) {
    Parse<What> result;
    WordReader words(phrase, result.problems);
    result.state = read_state_words(words, circuit, {stop_at, &result.doubtful, false});
    const auto rest = words.rest();
    const std::size_t start = words.position();
    result.what = read(words, result.state);
    result.said = words_as_typed(rest.first(words.position() - start));
    if (result.what) check_left_over(words, circuit, name);
    return result;
}

/// At the front exact case wins (`m1` the position, `M1` the motor); otherwise the parse that is whole; if two are, a
/// problem shows both. Returns nullopt, and at least one problem, when none is.
template <class What>
std::optional<Parse<What>> only_parse(const TypedText& phrase, const Circuit& circuit, const WhatReader<What>& read,
                                      std::string_view name, Problems& problems) {
    std::vector<Parse<What>> all;
    // The first takes every doubtful word as a setting.
    all.push_back(parse_phrase(phrase, circuit, std::nullopt, read, name));
    const auto doubtful = all.front().doubtful;
    for (const std::size_t stop : doubtful) {
        all.push_back(parse_phrase(phrase, circuit, std::optional(stop), read, name));
        // A position called `lamp` is written with its control; where both ways are whole, `lamp` is the instrument.
        if (all.back().whole() && begins_measurement(phrase, stop)) return std::move(all.back());
    }
    Parse<What>* found = nullptr;
    const auto shown = [](const Parse<What>& parse) {
        return "state '" + parse.state.text + "' and '" + parse.said + "'";
    };
    for (Parse<What>& candidate : all) {
        if (!candidate.whole()) continue;
        if (found) {
            problems.error(ProblemCode::two_meanings, phrase.place,
                           "this reads two ways: " + shown(*found) + ", or " + shown(candidate),
                           way_out(found->state, circuit));
            return std::nullopt;
        }
        found = &candidate;
    }
    problems.add_all(found ? found->problems : all.front().problems);
    if (!found) return std::nullopt;
    return std::move(*found);
}

}  // namespace voltfall
