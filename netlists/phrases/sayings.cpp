#include "netlists/phrases/sayings.hpp"

#include <algorithm>
#include <array>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Words that change nothing in front of a saying, and closing_words it.
constexpr std::array<std::string_view, 22> before{
    "is",   "are",  "was",   "a",        "an",     "bit",    "little",     "very",   "quite", "rather", "too",
    "only", "just", "still", "slightly", "always", "really", "completely", "barely", "it",    "seems",  "appears"};
constexpr std::array<std::string_view, 6> closing_words{"again", "now", "always", "still", "only", "too"};

template <std::size_t count>
bool is_one_of(const std::array<std::string_view, count>& list, const Word* word) {
    return word && !word->quoted &&
           std::any_of(list.begin(), list.end(), [&](std::string_view w) { return same_word(w, word->text); });
}

/// Calls `use` with each piece of `text` between the marks.
template <class Use>
void each_piece(std::string_view text, char mark, const Use& use) {
    while (!text.empty()) {
        const std::size_t end = text.find(mark);
        if (const std::string_view piece = text.substr(0, end); !piece.empty()) use(piece);
        text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    }
}

/// The number of words by which this way of saying it stands there; 0 where it does not.
std::size_t length_there(const WordReader& words, std::size_t ahead, std::string_view way) {
    std::size_t length = 0;
    bool same = true;
    each_piece(way, ' ', [&](std::string_view piece) {
        const Word* word = same ? words.peek(ahead + length) : nullptr;
        same = word && !word->quoted && same_word(word->text, piece);
        ++length;
    });
    return same ? length : 0;
}

std::optional<FoundSaying> find_here(const WordReader& words, std::size_t ahead, Sayings sayings) {
    std::optional<FoundSaying> found;
    const Word* next = words.peek(ahead);
    if (!next || next->quoted) return found;
    const std::string_view first = std::string_view(next->text).substr(0, 1);
    for (const Saying& saying : sayings) {
        const auto weigh = [&](std::string_view way) {
            // Nearly all ways begin with another letter.
            if (!same_word(way.substr(0, 1), first)) return;
            const std::size_t length = length_there(words, ahead, way);
            if (length > (found ? found->words : 0)) found = {saying.word, length};
        };
        weigh(saying.word);
        each_piece(saying.also, '|', weigh);
    }
    return found;
}

}  // namespace

std::optional<FoundSaying> find_saying(const WordReader& words, std::size_t ahead, Sayings sayings) {
    std::size_t skipped = 0;
    auto found = find_here(words, ahead, sayings);
    while (!found && is_one_of(before, words.peek(ahead + skipped)))
        found = find_here(words, ahead + ++skipped, sayings);
    if (!found) return std::nullopt;
    found->words += skipped;
    while (is_one_of(closing_words, words.peek(ahead + found->words))) ++found->words;
    return found;
}

std::size_t words_before_saying(const WordReader& words) {
    std::size_t count = 0;
    while (is_one_of(before, words.peek(count))) ++count;
    return count;
}

std::optional<std::string_view> take_saying(WordReader& words, Sayings sayings) {
    const auto found = find_saying(words, 0, sayings);
    if (!found) return std::nullopt;
    for (std::size_t i = 0; i < found->words; ++i) words.take();
    return found->word;
}

bool is_said(Sayings sayings, std::string_view word) {
    return std::any_of(sayings.begin(), sayings.end(), [&](const Saying& saying) {
        bool said = same_word(saying.word, word);
        each_piece(saying.also, '|', [&](std::string_view way) { said = said || same_word(way, word); });
        return said;
    });
}

std::vector<std::string> words_of(Sayings sayings) {
    std::vector<std::string> words;
    for (const Saying& saying : sayings) {
        if (std::find(words.begin(), words.end(), saying.word) == words.end()) words.emplace_back(saying.word);
    }
    return words;
}

std::string saying_advice(Sayings sayings, std::string_view typed) {
    if (std::string advice = did_you_mean(typed, words_of(sayings)); !advice.empty()) return advice;
    for (const Saying& saying : sayings) {
        std::vector<std::string> ways;
        each_piece(saying.also, '|', [&](std::string_view way) { ways.emplace_back(way); });
        if (!nearest(typed, ways).empty()) return "did you mean '" + std::string(saying.word) + "'?";
    }
    return {};
}

}  // namespace voltfall
