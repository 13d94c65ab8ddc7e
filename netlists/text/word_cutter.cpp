#include "netlists/text/word_cutter.hpp"

#include "netlists/text/ascii_digits.hpp"
#include "netlists/text/problem_code.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace voltfall {

namespace {

constexpr std::string_view number_marks = "@~<>=(";

/// The unit at the front of what follows a number: up to a mark that ends it.
std::string_view leading_unit(std::string_view text) {
    const std::size_t end = text.find_first_of("@-?:;)");
    return text.substr(0, end);
}

}  // namespace

WordCutter::WordCutter(const TypedText& phrase, Problems& problems)
    : phrase_(phrase), problems_(problems), characters_(characters_of(phrase.text)) {
    read_symbols();
}

void WordCutter::read_symbols() {
    symbols_.reserve(characters_.size());
    for (const Character& character : characters_) {
        Symbol symbol{character.bytes};
        const LookAlike* alike = character.valid ? look_alike(character.code) : nullptr;
        const bool control = character.valid && (character.code < 0x20 || character.code == 0x7F);
        if (alike) {
            symbol.plain = alike->plain;
            symbol.left_out = alike->plain == 0;
            symbol.report = true;
        } else if (!character.valid) {
            symbol.plain = '?';
            symbol.report = true;
        } else if (control) {
            symbol.plain = ' ';
            symbol.report = character.code != '\t' && character.code != '\n' && character.code != '\r';
        } else if (character.code < 0x80) {
            symbol.plain = static_cast<char>(character.code);
        }
        symbols_.push_back(symbol);
    }
}

/// The characters as they are read: look-alikes as their plain character.
std::string WordCutter::text_between(std::size_t from, std::size_t to) const {
    std::string text;
    for (std::size_t i = from; i < to && i < symbols_.size(); ++i) {
        const Symbol& symbol = symbols_[i];
        if (symbol.left_out) continue;
        if (symbol.plain != 0) {
            text += symbol.plain;
        } else {
            text += symbol.bytes;
        }
    }
    return text;
}

/// Where a token ends that began at `from`: at a blank, a comma, a quote or a note.
std::size_t WordCutter::token_end(std::size_t from) const {
    std::size_t at = from;
    while (at < symbols_.size() && !blank_at(at) && plain_at(at) != ',' && plain_at(at) != '"' && plain_at(at) != '#') {
        ++at;
    }
    return at;
}

std::vector<Word> WordCutter::cut() {
    while (next_ < symbols_.size() && plain_at(next_) != '#') {
        const char c = plain_at(next_);
        if (c == '"') {
            cut_quoted();
        } else if (blank_at(next_) || c == ',') {
            if (symbols_[next_].report) report_look_alike(next_);
            tight_comma_ = c == ',';
            comma_ = comma_ || tight_comma_;
            ++next_;
        } else {
            cut_plain();
        }
    }
    return std::move(words_);
}

/// Text in double quotes is free: nothing in it is reported, but a curly quote around it is.
void WordCutter::cut_quoted() {
    const std::size_t from = next_;
    if (symbols_[from].report) report_look_alike(from);
    std::size_t at = from + 1;
    while (at < symbols_.size() && plain_at(at) != '"') ++at;
    std::string text;
    for (std::size_t i = from + 1; i < at; ++i) {
        text += characters_[i].valid ? symbols_[i].bytes : std::string_view("?");
    }
    if (at == symbols_.size()) {
        problems_.error(ProblemCode::open_quotes,
                        phrase_.place.shifted(static_cast<int>(from), static_cast<int>(at - from)),
                        "the quoted text '" + text + "' has no closing quote", "end it with \"");
    } else {
        if (symbols_[at].report) report_look_alike(at);
        ++at;
    }
    add(from, at, std::move(text), true);
    next_ = at;
}

/// `20A@13.5V` is two words: the end of the first, where a figure with its unit stands before an `@`; else `to`.
std::size_t WordCutter::before_glued_mark(std::size_t from, std::size_t to) const {
    for (std::size_t i = from + 1; i < to; ++i) {
        if (plain_at(i) != '@') continue;
        const auto measure = parse_measure(with_point(text_between(from, i)));
        return measure && measure->unit != Unit::none ? i : to;
    }
    return to;
}

void WordCutter::cut_plain() {
    const std::size_t from = next_;
    std::size_t at = token_end(from);
    bool decimal = false;
    while (plain_at(at) == ',' && decimal_comma(from, at)) {
        decimal = true;
        at = token_end(at + 1);
    }
    at = before_glued_mark(from, at);
    for (std::size_t i = from; i < at; ++i) {
        if (symbols_[i].report) report_look_alike(i);
    }
    std::string text = text_between(from, at);
    if (decimal) report_thousands(from, at, text);
    next_ = at;
    if (!text.empty()) add(from, at, std::move(text), false);
}

void WordCutter::add(std::size_t from, std::size_t to, std::string text, bool quoted) {
    Word word{std::move(text), static_cast<int>(from),    static_cast<int>(to - from),
              quoted,          comma_ && !words_.empty(), {}};
    words_.push_back(std::move(word));
    comma_ = tight_comma_ = false;
}

/// Whether a number may begin at `at`: at the start of the word, behind a mark (`@13,5V`), a sign, or as the upper
/// end of a range (`3,2-4,1A`).
bool WordCutter::starts_number(std::size_t from, std::size_t at) const {
    if (at == from) return true;
    const char before = plain_at(at - 1);
    if (before != 0 && number_marks.find(before) != std::string_view::npos) return true;
    // `2x2,5mm2`
    if ((before == 'x' || before == 'X') && at >= from + 2 && digit_at(at - 2)) return true;
    if (before != '-' && before != '+') return false;
    if (at - 1 == from) return true;
    std::string lower_end = with_point(text_between(from, at - 1));
    lower_end.erase(0, std::min(lower_end.find_first_not_of(number_marks), lower_end.size()));
    return parse_measure(lower_end).has_value();
}

/// A comma is a decimal comma when it stands alone between digits and a unit follows: `2,5mm2`, `18,5 A`. In a list
/// such as `1,2,3` or `1,2,3V` it is not.
bool WordCutter::decimal_comma(std::size_t from, std::size_t at) const {
    std::size_t start = at;
    while (start > from && digit_at(start - 1)) --start;
    std::size_t after = at + 1;
    while (digit_at(after)) ++after;
    if (start == at || after == at + 1 || !starts_number(from, start)) return false;
    const bool in_list = start == from && tight_comma_ && !words_.empty() && all_digits(words_.back().text);
    if (in_list || plain_at(after) == ',' || plain_at(after) == '.') return false;
    // `lo=1,2 A` may go on with a name; a unit must touch there.
    const bool assigned = start > from && plain_at(start - 1) == '=';
    return unit_follows(after, assigned ? Apart::refused : Apart::allowed);
}

/// Whether what follows a number's last digit is its unit, at once, behind one blank, or behind the upper end of a
/// range.
bool WordCutter::unit_follows(std::size_t after, Apart apart) const {
    const std::size_t end = token_end(after);
    const std::string glued = text_between(after, end);
    if (glued.empty()) {
        if (apart == Apart::refused || !blank_at(end)) return false;
        return is_unit_word(leading_unit(text_between(end + 1, token_end(end + 1))));
    }
    if (is_unit_word(leading_unit(glued))) return true;
    if (glued.front() != '-' || !digit_at(after + 1)) return false;
    std::size_t upper = after + 1;
    while (digit_at(upper)) ++upper;
    const bool point = plain_at(upper) == '.' || plain_at(upper) == ',';
    if (point && digit_at(upper + 1)) {
        ++upper;
        while (digit_at(upper)) ++upper;
    }
    return plain_at(upper) != '-' && unit_follows(upper, apart);
}

void WordCutter::report_look_alike(std::size_t at) {
    const SourcePlace place = phrase_.place.shifted(static_cast<int>(at), 1);
    const Character& character = characters_[at];
    if (!character.valid) {
        problems_.error(ProblemCode::not_utf8, place,
                        fmt::format("the byte 0x{:02X} is not UTF-8 text", static_cast<unsigned>(character.code)),
                        "save the file as UTF-8, or type the character again");
        return;
    }
    const std::string code = code_point_name(character.code);
    const LookAlike* alike = look_alike(character.code);
    if (!alike) {
        problems_.error(ProblemCode::control_character, place, "a control character (" + code + ") stands in the text",
                        "take it out");
        return;
    }
    const std::string message = "the character " + code + " (" + std::string(alike->name) + ") is not read here";
    switch (alike->plain) {
        case '\0':
            problems_.error(ProblemCode::strange_character, place, message, "take it out; it cannot be seen");
            break;
        case ' ':
            problems_.error(ProblemCode::strange_character, place, message, "type a plain blank instead");
            break;
        default:
            problems_.error(ProblemCode::strange_character, place, message,
                            std::string("type a plain ") + alike->plain + " instead");
            break;
    }
}

/// `3,500rpm` may be 3.5 or 3500: both are offered, none is taken.
void WordCutter::report_thousands(std::size_t from, std::size_t to, const std::string& text) {
    for (std::size_t comma = text.find(','); comma != std::string::npos; comma = text.find(',', comma + 1)) {
        std::size_t start = comma;
        while (start > 0 && text[start - 1] >= '0' && text[start - 1] <= '9') --start;
        std::size_t end = comma + 1;
        while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
        if (end - comma != 4 || comma - start > 3 || text[start] == '0') continue;
        std::string thousands = text;
        thousands.erase(comma, 1);
        problems_.error(ProblemCode::two_meanings,
                        phrase_.place.shifted(static_cast<int>(from), static_cast<int>(to - from)),
                        "'" + text + "' may mean '" + thousands + "' or '" + with_point(text) + "'",
                        "type " + thousands + " or " + with_point(text));
        return;
    }
}

}  // namespace voltfall
