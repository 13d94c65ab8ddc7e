#include "netlists/phrases/state_pieces.hpp"

#include <algorithm>
#include <string>

#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {}  // namespace

void set_key(StatePhrase& state, KeyPosition key, WordReader& words, const Word* word) {
    if (state.key && *state.key != key) {
        return words.error(
            ProblemCode::contradiction, word,
            "'key " + std::string(key_word(key)) + "' stands beside 'key " + std::string(key_word(*state.key)) + "'",
            "write two readings, one for each");
    }
    state.key = key;
}

void take_condition(StatePhrase& state, WordReader& words) {
    const Word& word = words.take();
    const std::string condition = lower(word.text);
    const std::string contrary = condition == "hot" ? "cold" : condition == "cold" ? "hot" : "";
    const auto& all = state.conditions;
    if (std::find(all.begin(), all.end(), contrary) != all.end())
        words.error(ProblemCode::contradiction, &word, "'" + condition + "' stands beside '" + contrary + "'",
                    "write two readings, one for each");
    state.conditions.push_back(condition);
}

void take_own_condition(StatePhrase& state, WordReader& words) {
    const Word& word = words.take();
    if (word.text.find_first_not_of(" \t") == std::string::npos)
        words.error(ProblemCode::empty_phrase, &word, "nothing stands between the quotes of a condition",
                    "for example \"after the car wash\"");
    state.conditions.push_back(word.text);
}

bool is_left_out(WordReader& words, const Circuit& circuit, const Word& word, std::string_view after,
                 std::string_view example) {
    if (find_place(circuit, word.text)) return false;
    bool exact = false;
    const bool other = word.after_comma || word.measure || is_state_word(word.text) || is_measurement_word(word.text) ||
                       !position_meanings(circuit, word.text, exact).empty();
    if (other)
        words.error(ProblemCode::missing_word, &word,
                    "what stands behind '" + std::string(after) + "' is missing in front of '" + word.text + "'",
                    "for example " + std::string(example));
    return other;
}

}  // namespace voltfall
