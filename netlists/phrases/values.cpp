#include "netlists/phrases/values.hpp"

#include <algorithm>
#include <limits>
#include <utility>

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
    if (low && high && low->unit == Unit::none && unit_at != std::string::npos) {
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
    if (!inner || inner->open || inner->about) return std::nullopt;
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

}  // namespace

bool begins_value(const Word& word) {
    if (word.quoted || word.text.empty()) return false;
    if (word.measure || parse_value(word.text)) return true;
    const char first = word.text[0];
    return first == '~' || first == '<' || first == '>';
}

std::optional<ReadValue> take_value(WordReader& words, std::string_view example) {
    const Word* word = words.peek();
    if (!word) {
        words.problems().error(words.place(), "the value is missing", "for example " + std::string(example));
        return std::nullopt;
    }
    std::size_t count = 1;
    const std::string text = joined_value(words, count);
    auto value = count == 1 && word->measure ? value_of(*word->measure, word->text) : parse_value(text);
    const SourcePlace place = words.place(word);
    if (!value) {
        words.problems().error(place, "'" + word->text + "' is no value; expected one such as " + std::string(example),
                               "write " + std::string(example) + ", >10V, <0.1V, 0.06-0.15V, ~12V, open or OL");
        return std::nullopt;
    }
    for (std::size_t i = 0; i < count; ++i) words.take();
    if (value->unit == Unit::none && !value->open) {
        const auto unit_at = example.find_first_not_of("0123456789.");
        const std::string unit(unit_at == std::string_view::npos ? "V" : example.substr(unit_at));
        words.problems().error(place, "'" + text + "' has no unit", "write " + text + unit);
        return std::nullopt;
    }
    return value;
}

std::optional<ReadValue> take_value_in(WordReader& words, Unit unit, std::string_view example, Scale scale) {
    const Word* word = words.peek();
    const SourcePlace place = words.place();
    auto value = take_value(words, example);
    if (!value) return std::nullopt;
    if (value->open || value->unit != unit) {
        words.problems().error(place, "'" + word->text + "' is not in " + name_of(unit),
                               "for example " + std::string(example));
        return std::nullopt;
    }
    const char last = value->text.empty() ? ' ' : value->text.back();
    if (scale == Scale::difference && unit == Unit::celsius && (last == 'F' || last == 'f')) {
        value->low -= fahrenheit_zero;
        value->high -= fahrenheit_zero;
    }
    return value;
}

}  // namespace voltfall
