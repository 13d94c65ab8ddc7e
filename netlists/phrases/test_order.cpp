#include "netlists/phrases/test_order.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 20> asking_words{
    "check", "test", "measure", "probe", "listen", "feel",  "if",     "whether", "is",    "are",
    "does",  "do",   "please",  "what",  "what's", "watch", "verify", "has",     "there", "get"};
constexpr std::array<std::string_view, 2> looking_words{"inspect", "see"};
/// What a question leaves in front of the thing.
constexpr std::array<std::string_view, 4> leading_words{"to", "at", "for", "the"};
/// What is asked of a thing, behind it: the bench tells it anyhow.
constexpr std::array<std::string_view, 12> asked_words{"ok",    "okay", "good", "blown",   "intact",  "work",
                                                       "works", "run",  "runs", "running", "working", "fine"};

template <std::size_t count>
bool is_among(const std::array<std::string_view, count>& list, const Word& word) {
    return !word.quoted &&
           std::any_of(list.begin(), list.end(), [&](std::string_view w) { return same_word(w, word.text); });
}

/// "test light", "test lamp": an instrument, and no question.
bool is_instrument(const std::vector<Word>& words, std::size_t at) {
    return at + 1 < words.size() && same_word(words[at].text, "test") &&
           (same_word(words[at + 1].text, "light") || same_word(words[at + 1].text, "lamp"));
}

/// The test that this text is, as it is written; empty where it is none.
std::string test_of_text(const std::string& text, const Circuit& circuit) {
    Problems problems;
    const auto test = read_test_phrase(TypedText::argument("test", text), circuit, problems);
    return test ? write_test(circuit, *test) : std::string();
}

}  // namespace

std::string without_asking(const std::string& line) {
    std::vector<Word> words = cut_words(line);
    std::vector<Word> kept;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (is_among(asking_words, words[i]) && !is_instrument(words, i)) continue;
        if (kept.empty() && is_among(leading_words, words[i])) continue;
        kept.push_back(words[i]);
        if (is_among(looking_words, words[i])) kept.back().text = "look";
    }
    const auto without_mark = [&] {
        while (!kept.empty() && kept.back().text.ends_with('?')) kept.back().text.pop_back();
        if (!kept.empty() && kept.back().text.empty()) kept.pop_back();
    };
    without_mark();
    while (kept.size() > 1 && is_among(asked_words, kept.back())) kept.pop_back();
    return words_as_typed(kept);
}

std::string in_test_order(const std::string& line, const Circuit& circuit) {
    if (!test_of_text(line, circuit).empty()) return line;
    const std::string plain = without_asking(line);
    if (!test_of_text(plain, circuit).empty()) return plain;
    std::vector<std::string> meant;
    for (const TypedText& order : test_orders(TypedText::argument("test", plain), circuit)) {
        const std::string test = test_of_text(order.text, circuit);
        if (!test.empty() && std::find(meant.begin(), meant.end(), test) == meant.end()) meant.push_back(test);
    }
    return meant.size() == 1 ? meant.front() : line;
}

void add_clearest_of_test(const TypedText& line, const Circuit& circuit, Problems& problems) {
    for (const TypedText& order : test_orders({without_asking(line.text), line.place}, circuit)) {
        Problems own;
        (void)read_test_phrase(order, circuit, own);
        for (const Problem& problem : own.list()) {
            if (!problem.suggestion.starts_with("name a point of it")) continue;
            return problems.error(problem.code, line.place, problem.message, problem.suggestion);
        }
    }
    (void)read_test_phrase(line, circuit, problems);
}

}  // namespace voltfall
