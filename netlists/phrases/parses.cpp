#include "netlists/phrases/parses.hpp"

#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::size_t start_of_note(std::string_view text) {
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '"') quoted = !quoted;
        if (text[i] == '#' && !quoted) return i;
    }
    return text.size();
}

}  // namespace

std::string without_note(const TypedText& typed) {
    return std::string(trimmed(std::string_view(typed.text).substr(0, start_of_note(typed.text))));
}

TrimmedPhrase trim_phrase(const TypedText& typed) {
    TrimmedPhrase bare{typed, {}, false};
    std::string& text = bare.phrase.text;
    const std::size_t note = start_of_note(text);
    if (note < text.size()) bare.note = trimmed(std::string_view(text).substr(note + 1));
    text.resize(note);
    text.resize(text.find_last_not_of(" \t") + 1);
    if (text.empty() || text.back() != '?') return bare;
    // `M1.1 to ?` keeps its question mark: there it is the unknown black lead.
    const std::string_view before = trimmed(std::string_view(text).substr(0, text.size() - 1));
    const bool is_lead = before.size() > 3 && same_word(before.substr(before.size() - 3), " to");
    if (is_lead) return bare;
    bare.doubted = true;
    text.pop_back();
    return bare;
}

void check_left_over(WordReader& words, const Circuit& circuit, std::string_view what) {
    const Word* left = words.peek();
    if (!left) return;
    const std::size_t position = words.position();
    Problems unused;
    WordReader again(words.phrase(), unused);
    again.rewind(position);
    const bool is_state = !read_state_words(again, circuit, {}).empty();
    words.problems().error(ProblemCode::extra_word, words.place(left),
                           "'" + left->text + "' is left over behind a whole " + std::string(what),
                           is_state ? "what was set stands in front: " + words_as_typed(words.rest()) + "  …"
                                    : "one " + std::string(what) + " a line; put a note behind #");
}

bool begins_measurement(const TypedText& phrase, std::size_t position) {
    Problems unused;
    WordReader words(phrase, unused);
    words.rewind(position);
    const Word* word = words.peek();
    return word && is_measurement_word(word->text);
}

std::string way_out(const StatePhrase& state, const Circuit& circuit) {
    if (state.settings.empty()) return "write the names as the file does";
    const ControlSetting& last = state.settings.back();
    const Part& part = circuit.part(last.part);
    return "write " + part.name + "=" + part.positions[last.positions.back()].name + " for the setting";
}

}  // namespace voltfall
