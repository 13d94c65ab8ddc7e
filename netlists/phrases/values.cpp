#include "netlists/phrases/values.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double fahrenheit_zero = -32 * 5.0 / 9;  // 0 F in Celsius

ReadValue value_of(const Measure& measure, std::string text) {
    ReadValue value;
    value.low = value.high = measure.value;
    value.unit = measure.unit;
    value.last_digit = measure.last_digit;
    value.text = std::move(text);
    return value;
}

/// `0.06-0.15V`, `20-50mV`, `-0.1-0.2V`: the unit may stand once, with its prefix on both.
std::optional<ReadValue> parse_range(const std::string& text) {
    const auto dash = text.find('-', 1);
    if (dash == std::string::npos || dash + 1 >= text.size()) return std::nullopt;
    const std::string high_text = text.substr(dash + 1);
    const auto unit_at = high_text.find_first_not_of("0123456789.,-");
    auto low = parse_measure(text.substr(0, dash));
    const auto high = parse_measure(high_text);
    if (high && (!low || low->unit == Unit::none) && unit_at != std::string::npos) {
        low = parse_measure(text.substr(0, dash) + high_text.substr(unit_at));
    }
    if (!low || !high || low->unit != high->unit) return std::nullopt;
    ReadValue value = value_of(*high, text);
    std::tie(value.low, value.high) = std::minmax({low->value, high->value});
    return value;
}

std::optional<ReadValue> parse_value(const std::string& text) {
    if (same_word(text, "open") || same_word(text, "OL")) {
        ReadValue value;
        value.low = value.high = infinity;
        value.unit = Unit::ohm;
        value.open = true;
        value.text = text;
        return value;
    }
    if (const auto measure = parse_measure(text)) return value_of(*measure, text);
    const char sign = text.empty() ? ' ' : text[0];
    if (sign != '~' && sign != '<' && sign != '>') return parse_range(text);
    auto inner = parse_value(text.substr(1));
    // One mark: `>>10V` and `~>10V` say nothing that `>10V` does not.
    if (!inner || inner->open || inner->about || !std::isfinite(inner->low) || !std::isfinite(inner->high))
        return std::nullopt;
    inner->text = text;
    if (sign == '~') inner->about = true;
    if (sign == '<') inner->low = -infinity;
    if (sign == '>') inner->high = infinity;
    return inner;
}

/// Words that make one value when a blank was typed inside: `> 10V`, `~12 V`, `3 - 19A`.
std::string joined_value(WordReader& words, std::size_t& count) {
    const Word* first = words.peek();
    std::string text = first->text;
    count = 1;
    const auto next = [&] { return words.peek(count); };
    if ((text == "~" || text == "<" || text == ">") && next()) {
        text += next()->text;
        ++count;
    }
    if (next() && next()->text == "-" && words.peek(count + 1)) {
        text += "-" + words.peek(count + 1)->text;
        count += 2;
    }
    const auto value = parse_value(text);
    if (value && value->unit == Unit::none && !value->open && next() && is_unit_word(next()->text)) {
        text += next()->text;
        ++count;
    }
    return text;
}

std::string name_of(Unit unit) {
    return std::string(unit_name(unit));
}

/// The row of a value of two points or a clamp; the others say what they are by their word.
const FigureBounds* bounds_by_unit(Unit unit) {
    if (unit == Unit::volt) return find_figure("reading", "volts", unit);
    if (unit == Unit::ohm) return find_figure("reading", "ohms", unit);
    return unit == Unit::ampere ? find_figure("reading", "amps", unit) : nullptr;
}

/// Are both ends what the figure can be? An end left open by `<` or `>` counts as held.
bool is_within(WordReader& words, const SourcePlace& place, const ReadValue& value, const FigureBounds& bounds,
               std::string_view example) {
    for (const double end : {value.low, value.high}) {
        if (!std::isfinite(end)) continue;
        const auto wrong = outside_bounds(bounds, end, value.text, example);
        if (!wrong) continue;
        words.problems().error(ProblemCode::figure_out_of_range, place, wrong->message, wrong->suggestion);
        return false;
    }
    return true;
}

/// A number that does not read, as it was typed.
std::nullopt_t report_misread(WordReader& words, const SourcePlace& place, std::string_view typed,
                              std::string_view example) {
    static constexpr std::array units{Unit::volt, Unit::ohm, Unit::ampere, Unit::celsius};
    Misread misread = explain_misread(typed, units);
    if (misread.suggestion.empty()) misread.suggestion = "for example " + std::string(example);
    words.problems().error(misread.code, place, std::move(misread.message), std::move(misread.suggestion));
    return std::nullopt;
}

/// A word that is no value: the number that does not read, else what a value looks like.
std::nullopt_t report_no_value(WordReader& words, std::string_view example) {
    const Word& word = *words.peek();
    const std::string right(example);
    if (!looks_like_number(word.text) || word.text.find('-', 1) != std::string::npos) {
        static const std::vector<std::string> others{"to", "open", "OL", "live", "dead"};
        const std::string meant = did_you_mean(word.text, others);
        words.problems().error(
            ProblemCode::no_figure, words.place(&word),
            "'" + word.text + "' is no value; expected one such as " + right,
            meant.empty() ? "write " + right + ", >10V, <0.1V, 0.06-0.15V, ~12V, open or OL" : meant);
        return std::nullopt;
    }
    return report_misread(words, words.place(&word), word.text, example);
}

}  // namespace

std::string behind_last_words(const WordReader& words) {
    constexpr std::size_t most = 3;
    if (!words.at_end() || words.position() == 0) return {};
    WordReader again = words;
    again.rewind(words.position() > most ? words.position() - most : 0);
    std::string text;
    for (const Word& word : again.rest()) text += (text.empty() ? "" : " ") + word.text;
    return " behind '" + text + "'";
}

ReadValue rise_felt(std::string_view word) {
    constexpr double cold_below = 5;
    constexpr double hot_above = 25;
    ReadValue value;
    value.unit = Unit::celsius;
    value.text = word;
    value.low = word == "cold" ? -infinity : word == "warm" ? cold_below : hot_above;
    value.high = word == "cold" ? cold_below : word == "warm" ? hot_above : infinity;
    return value;
}

bool begins_value(const Word& word) {
    if (word.quoted) return false;
    if (word.measure || parse_value(word.text)) return true;
    const char first = word.text[0];
    return first == '~' || first == '<' || first == '>';
}

std::optional<ReadValue> take_value(WordReader& words, std::string_view example, std::string_view only) {
    const Word* word = words.peek();
    if (!word) {
        words.problems().error(ProblemCode::missing_figure, words.place(),
                               "the value is missing" + behind_last_words(words),
                               "for example " + std::string(example));
        return std::nullopt;
    }
    std::size_t count = 1;
    const std::string text = joined_value(words, count);
    auto value = count == 1 && word->measure ? value_of(*word->measure, word->text) : parse_value(text);
    if (!value) return report_no_value(words, example);
    const TypedNumber typed = number_as_typed(words.rest());
    const bool cut = count == 1 && typed.words > 1;
    const SourcePlace place = words.phrase().place.shifted(word->offset, cut ? typed.length : word->length);
    for (std::size_t i = 0; i < (cut ? 2 : count); ++i) words.take();
    if (value->unit == Unit::none && !value->open && !only.empty()) {
        std::string number = cut ? typed.text : text;
        std::replace(number.begin(), number.end(), ',', '.');
        value = parse_value(number + std::string(only));
        if (!value) return report_misread(words, place, cut ? typed.text : text, example);
    } else if (value->unit == Unit::none && !value->open) {
        const auto unit_at = example.find_first_not_of("0123456789.");
        const std::string unit(unit_at == std::string_view::npos ? "V" : example.substr(unit_at));
        const std::string number = cut ? typed.text : text;
        words.problems().error(ProblemCode::no_unit, place, "'" + number + "' has no unit", "write " + number + unit);
        return std::nullopt;
    }
    const FigureBounds* bounds = value->open ? nullptr : bounds_by_unit(value->unit);
    const std::string_view right = value->unit == Unit::ohm ? "2.25ohm" : example;
    if (bounds && !is_within(words, place, *value, *bounds, right)) return std::nullopt;
    return value;
}

/// The unit in which a bare number is meant where only this one is possible; a pressure has several in use.
static std::string_view unit_alone(Unit unit) {
    switch (unit) {
        case Unit::volt:
            return "V";
        case Unit::ampere:
            return "A";
        case Unit::celsius:
            return "C";
        case Unit::percent:
            return "%";
        default:
            return {};
    }
}

std::optional<ReadValue> take_value_in(WordReader& words, Unit unit, std::string_view example, Scale scale) {
    const Word* word = words.peek();
    const SourcePlace place = words.place();
    auto value = take_value(words, example, unit_alone(unit));
    if (!value) return std::nullopt;
    if (value->open || value->unit != unit) {
        words.problems().error(ProblemCode::wrong_unit, place, "'" + word->text + "' is not in " + name_of(unit),
                               "for example " + std::string(example));
        return std::nullopt;
    }
    const char last = value->text.back();
    if (scale == Scale::difference && unit == Unit::celsius && (last == 'F' || last == 'f')) {
        value->low -= fahrenheit_zero;
        value->high -= fahrenheit_zero;
    }
    const bool rise = scale == Scale::difference;
    const FigureBounds* bounds = unit == Unit::celsius   ? find_figure("reading", rise ? "rise" : "temperature", unit)
                                 : unit == Unit::percent ? find_figure("reading", "duty", unit)
                                 : unit == Unit::pascal  ? find_figure("reading", "pressure", unit)
                                                         : nullptr;
    if (bounds && !is_within(words, place, *value, *bounds, example)) return std::nullopt;
    return value;
}

std::optional<double> take_figure(WordReader& words, Unit unit, std::string_view figure, std::string_view what,
                                  std::string_view example) {
    const Word* word = words.peek();
    const std::string advice = "for example " + std::string(example);
    if (!word || !looks_like_number(word->text)) {
        words.problems().error(ProblemCode::missing_figure, words.place(word), std::string(what) + " missing", advice);
        return std::nullopt;
    }
    words.take();
    if (!word->measure) {
        Misread misread = explain_misread(word->text, std::array{unit});
        if (misread.suggestion.empty()) misread.suggestion = advice;
        words.problems().error(misread.code, words.place(word), std::move(misread.message),
                               std::move(misread.suggestion));
        return std::nullopt;
    }
    if (word->measure->unit != unit) {
        words.problems().error(ProblemCode::wrong_unit, words.place(word),
                               "'" + word->text + "' is not in " + name_of(unit), advice);
        return std::nullopt;
    }
    const auto wrong =
        outside_bounds(figure_bounds("reading", figure, unit), word->measure->value, word->text, example);
    if (!wrong) return word->measure->value;
    words.problems().error(ProblemCode::figure_out_of_range, words.place(word), wrong->message, wrong->suggestion);
    return std::nullopt;
}

}  // namespace voltfall
