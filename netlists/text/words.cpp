#include "netlists/text/words.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "netlists/text/ascii_digits.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/plain_text.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/word_cutter.hpp"

namespace voltfall {

namespace {

bool is_bare_number(std::string_view text) {
    if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
    const auto measure = parse_measure(with_point(std::string(text)));
    return measure && measure->unit == Unit::none;
}

/// `40`, `2,5`, and with the marks that may lead a number: `~1.4`, `@13.5`, `<0.1`, `0.06-0.15`.
bool waits_for_unit(std::string_view text) {
    while (!text.empty() && std::string_view("@~<>").find(text.front()) != std::string_view::npos) {
        text.remove_prefix(1);
    }
    if (is_bare_number(text)) return true;
    const std::size_t dash = text.find('-', 1);
    if (dash == std::string_view::npos) return false;
    return is_bare_number(text.substr(0, dash)) && is_bare_number(text.substr(dash + 1));
}

/// `in` is inches only at the end of a phrase or before the next thing, never in `lamp 60 in F7`.
bool may_be_inches(std::span<const Word> after) {
    return after.empty() || after.front().after_comma || after.front().quoted || waits_for_unit(after.front().text) ||
           parse_measure(with_point(after.front().text)).has_value();
}

/// Whether a word is a unit typed apart from its number. Short ones can be names too (`1 A`), so they must stand one
/// blank away, and single letters only where people write units with them.
bool is_unit_apart(const Word& number, const Word& word, std::span<const Word> after) {
    std::string_view text = word.text;
    if (!text.empty() && (text.back() == '?' || text.back() == ':')) text.remove_suffix(1);
    if (word.quoted || word.after_comma || !is_unit_word(text)) return false;
    const int blanks = word.offset - (number.offset + number.length);
    if (text.size() == 1) return blanks == 1 && std::string_view("msvaVAWCF%").find(text) != std::string_view::npos;
    return !same_word(text, "in") || (blanks == 1 && may_be_inches(after));
}

/// One word of a number and its unit, without the blank.
void merge(Word& number, const Word& unit) {
    // Glued to a number, `1/min` would read as one more digit.
    const bool per_minute = unit.text.substr(0, 5) == "1/min";
    number.text += per_minute ? "rpm" + unit.text.substr(5) : unit.text;
    number.length = unit.offset + unit.length - number.offset;
}

void read_number(Word& word) {
    if (word.quoted) return;
    word.measure = parse_measure(word.text);
    if (word.measure || word.text.find(',') == std::string::npos) return;
    // Only decimal commas are left in words. Ranges and marked numbers are read by their phrase, as plain points.
    std::string plain = with_point(word.text);
    word.measure = parse_measure(plain);
    if (!word.measure) word.text = std::move(plain);
}

}  // namespace

TypedText TypedText::argument(std::string_view origin, std::string_view text) {
    TypedText typed;
    typed.text = text;
    typed.place.file = origin;
    typed.place.line = 1;
    typed.place.column = 1;
    typed.place.length = std::max(1, character_count(text));
    typed.place.text = text;
    return typed;
}

std::vector<Word> cut_words(const TypedText& phrase, Problems& problems) {
    const std::vector<Word> pieces = WordCutter(phrase, problems).cut();
    std::vector<Word> words;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const auto after = std::span(pieces).subspan(i + 1);
        const bool waiting = !words.empty() && !words.back().quoted && waits_for_unit(words.back().text);
        if (waiting && is_unit_apart(words.back(), pieces[i], after)) {
            merge(words.back(), pieces[i]);
        } else {
            words.push_back(pieces[i]);
        }
    }
    for (Word& word : words) read_number(word);
    return words;
}

bool reads_plain(const TypedText& text, Problems& problems) {
    Problems own;
    cut_words(text, own);
    problems.add_all(own);
    return !own.has_errors();
}

WordReader::WordReader(const TypedText& phrase, Problems& problems)
    : phrase_(phrase), problems_(problems), words_(cut_words(phrase, problems)) {}

const Word* WordReader::peek(std::size_t ahead) const {
    return ahead < words_.size() - std::min(next_, words_.size()) ? &words_[next_ + ahead] : nullptr;
}

const Word& WordReader::take() {
    if (at_end()) throw std::logic_error("a word was taken behind the end of a phrase");
    return words_[next_++];
}

bool WordReader::take_if(std::string_view word) {
    const Word* next = peek();
    if (!next || next->quoted || !same_word(next->text, word)) return false;
    ++next_;
    return true;
}

std::optional<Measure> WordReader::take_measure(Unit unit) {
    const Word* next = peek();
    if (!next || !next->measure || next->measure->unit != unit) return std::nullopt;
    ++next_;
    return next->measure;
}

SourcePlace WordReader::place(const Word* word) const {
    if (word) return phrase_.place.shifted(word->offset, word->length);
    const int end = words_.empty() ? 0 : words_.back().offset + words_.back().length;
    return phrase_.place.shifted(end, 1);
}

bool Word::is_among(std::span<const std::string_view> list) const {
    return !quoted && std::any_of(list.begin(), list.end(), [&](std::string_view one) { return same_word(one, text); });
}

std::vector<Word> cut_words(std::string_view text) {
    Problems unused;
    return cut_words(TypedText::argument("", text), unused);
}

void WordReader::error(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
    problems_.error(code, place(word), std::move(message), std::move(suggestion));
}

}  // namespace voltfall
