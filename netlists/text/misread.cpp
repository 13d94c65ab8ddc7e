#include "netlists/text/misread.hpp"

#include <algorithm>
#include <iterator>
#include <vector>

#include "netlists/text/ascii_digits.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/twin_letters.hpp"

namespace voltfall {

namespace {

/// Where the unit begins: behind digits, points, commas and an exponent.
std::size_t unit_at(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size() && (is_digit(text[at]) || text[at] == '.' || text[at] == ',')) ++at;
    if (at >= text.size() || (text[at] != 'e' && text[at] != 'E')) return at;
    std::size_t digits = at + 1;
    if (digits < text.size() && (text[digits] == '-' || text[digits] == '+')) ++digits;
    if (digits >= text.size() || !is_digit(text[digits])) return at;
    while (digits < text.size() && is_digit(text[digits])) ++digits;
    return digits;
}

/// The unit that was likely meant: of those expected one with the same first letter (`rmp` is nearer to rpm than to
/// amp), else the nearest of them, else of all.
std::string nearest_unit(std::string_view typed, std::span<const Unit> expected) {
    const std::vector<std::string> words = unit_words(expected);
    // `361MV`: only the case is another one.
    for (const auto& known : {words, unit_words()}) {
        const auto same =
            std::find_if(known.begin(), known.end(), [&](const std::string& word) { return same_word(word, typed); });
        if (same != known.end()) return *same;
    }
    // `12kV`, `3uohm`: a unit with a letter too many in front is that unit.
    const auto is_rest = [&](const std::string& word) {
        return typed.size() == word.size() + 1 && same_word(typed.substr(1), word);
    };
    if (const auto rest = std::find_if(words.begin(), words.end(), is_rest); rest != words.end()) return *rest;
    std::vector<std::string> same_start;
    std::copy_if(words.begin(), words.end(), std::back_inserter(same_start),
                 [&](const std::string& word) { return same_word(word.substr(0, 1), typed.substr(0, 1)); });
    for (const auto& known : {same_start, words, unit_words()}) {
        if (std::string near = nearest(typed, known); !near.empty()) return near;
    }
    return {};
}

/// The number that looks like the typed one: `2OA` as 20A, `l2V` is no number, `1О` with a Cyrillic letter. Empty where
/// none does.
std::string number_that_looks_so(std::string_view number) {
    std::string looks = as_it_looks(number);
    for (std::size_t i = 1; i < looks.size(); ++i) {
        const bool behind_digit = is_digit(looks[i - 1]) || looks[i - 1] == '.';
        if (!behind_digit) break;
        if (looks[i] == 'O' || looks[i] == 'o') looks[i] = '0';
        if (looks[i] == 'l' || looks[i] == 'I') looks[i] = '1';
    }
    const auto measure = parse_measure(looks);
    return looks != number && measure && measure->unit != Unit::none ? looks : std::string();
}

/// Units that stand on parts and that no line takes, such as a battery's ampere-hours and its cold cranking amperes.
bool is_unused_unit(std::string_view unit) {
    constexpr std::string_view unused[]{"Ah", "CCA", "Wh", "kWh", "hp", "PS", "kg", "lm"};
    return std::any_of(std::begin(unused), std::end(unused), [&](std::string_view u) { return same_word(u, unit); });
}

}  // namespace

std::string_view without_marks(std::string_view token) {
    const auto first = token.find_first_not_of("@~<>");
    return first == std::string_view::npos ? std::string_view{} : token.substr(first);
}

bool looks_like_number(std::string_view token) {
    std::string_view rest = without_marks(token);
    if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) rest.remove_prefix(1);
    if (!rest.empty() && rest.front() == '.') rest.remove_prefix(1);
    return !rest.empty() && is_digit(rest.front());
}

Misread explain_misread(std::string_view token, std::span<const Unit> expected) {
    const std::string typed = "'" + std::string(token) + "'";
    const std::string_view number = without_marks(token);
    const std::string marks(token.substr(0, token.size() - number.size()));
    const bool sign = !number.empty() && (number.front() == '-' || number.front() == '+');
    const std::string_view unsigned_number = number.substr(sign ? 1 : 0);
    const std::size_t end = unit_at(unsigned_number);
    const std::string_view unit = unsigned_number.substr(end);
    if (unit.empty()) {
        const bool reads = parse_measure(with_point(unsigned_number)).has_value();
        return reads ? Misread{ProblemCode::no_unit, typed + " has no unit", {}}
                     : Misread{ProblemCode::no_figure, typed + " is no number that can be read", {}};
    }
    if (!is_unit_word(unit)) {
        if (const std::string looks = number_that_looks_so(number); !looks.empty()) {
            const std::string twin = twin_letter_in(number);
            return {ProblemCode::wrong_unit, typed + " is no figure: '" + std::string(unit) + "' is no unit",
                    "did you mean " + marks + looks + "?" + (twin.empty() ? "" : " " + twin)};
        }
        if (is_unused_unit(unit))
            return {ProblemCode::wrong_unit, typed + " is no figure that anything here depends on", "leave it out"};
        const std::string near = nearest_unit(unit, expected);
        const std::string meant = marks + std::string(number.substr(0, number.size() - unit.size())) + near;
        return {ProblemCode::wrong_unit, typed + " is no figure: '" + std::string(unit) + "' is no unit",
                near.empty() ? "" : "did you mean " + meant + "?"};
    }
    const bool gauge = same_word(unit, "AWG") || same_word(unit, "ga") || same_word(unit, "gauge");
    if (gauge)
        return {ProblemCode::no_figure, typed + " is no wire gauge", "gauges are whole numbers, 0000AWG to 40AWG"};
    if (sign && parse_measure(unsigned_number)) {
        const std::string plain = "write " + marks + std::string(unsigned_number);
        return {ProblemCode::figure_out_of_range,
                typed + (number.front() == '-' ? " must not be below zero" : " has a sign"), plain};
    }
    return {ProblemCode::no_figure, typed + " is no number that can be read", {}};
}

TypedNumber number_as_typed(std::span<const Word> words) {
    const Word& first = words.front();
    TypedNumber number{first.text, first.length, 1};
    if (words.size() < 2 || first.quoted) return number;
    const Word& next = words[1];
    const bool touches = next.after_comma && next.offset == first.offset + first.length + 1;
    std::string_view digits = without_marks(first.text);
    if (!digits.empty() && digits.front() == '-') digits.remove_prefix(1);
    if (!touches || next.quoted || !all_digits(digits) || !is_digit(next.text.front())) return number;
    return {first.text + "," + next.text, next.offset + next.length - first.offset, 2};
}

}  // namespace voltfall
