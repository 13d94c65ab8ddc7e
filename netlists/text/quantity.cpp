#include "netlists/text/quantity.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "netlists/text/ascii_digits.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// How much the case of a unit's letters says.
enum class Case {
    free,        ///< `v`, `OHM`
    first,       ///< the first letter as written: `mV` is not `MV`
    first_only,  ///< as `first`, and not all in capitals: `MOHM` may be milli or mega
};

struct Spelling {
    std::string_view text;
    Unit unit;
    double numerator;  ///< SI value = number * numerator / denominator: one rounding for thousandths
    double denominator;
    Case letters{Case::free};
};

// Exact by definition: inch 0.0254 m, foot 0.3048 m; psi from the pound-force and the inch, 6894.757293 Pa.
constexpr double pascal_per_psi = 6894.757293168361;

constexpr std::array spellings{
    Spelling{"V", Unit::volt, 1, 1},
    Spelling{"volt", Unit::volt, 1, 1},
    Spelling{"volts", Unit::volt, 1, 1},
    Spelling{"mV", Unit::volt, 1, 1000, Case::first},
    Spelling{"millivolt", Unit::volt, 1, 1000},
    Spelling{"millivolts", Unit::volt, 1, 1000},
    Spelling{"A", Unit::ampere, 1, 1},
    Spelling{"amp", Unit::ampere, 1, 1},
    Spelling{"amps", Unit::ampere, 1, 1},
    Spelling{"mA", Unit::ampere, 1, 1000, Case::first},
    Spelling{"ampere", Unit::ampere, 1, 1},
    Spelling{"amperes", Unit::ampere, 1, 1},
    Spelling{"milliamp", Unit::ampere, 1, 1000},
    Spelling{"milliamps", Unit::ampere, 1, 1000},
    Spelling{"ohm", Unit::ohm, 1, 1},
    Spelling{"ohms", Unit::ohm, 1, 1},
    Spelling{"mohm", Unit::ohm, 1, 1000, Case::first},
    Spelling{"mohms", Unit::ohm, 1, 1000, Case::first},
    Spelling{"milliohm", Unit::ohm, 1, 1000},
    Spelling{"milliohms", Unit::ohm, 1, 1000},
    Spelling{"kilohm", Unit::ohm, 1000, 1},
    Spelling{"kilohms", Unit::ohm, 1000, 1},
    Spelling{"kohm", Unit::ohm, 1000, 1},
    Spelling{"kohms", Unit::ohm, 1000, 1},
    Spelling{"Mohm", Unit::ohm, 1e6, 1, Case::first_only},
    Spelling{"Mohms", Unit::ohm, 1e6, 1, Case::first_only},
    Spelling{"W", Unit::watt, 1, 1},
    Spelling{"watt", Unit::watt, 1, 1},
    Spelling{"watts", Unit::watt, 1, 1},
    Spelling{"mW", Unit::watt, 1, 1000, Case::first},
    Spelling{"kW", Unit::watt, 1000, 1},
    Spelling{"s", Unit::second, 1, 1},
    Spelling{"sec", Unit::second, 1, 1},
    Spelling{"ms", Unit::second, 1, 1000, Case::first},
    Spelling{"us", Unit::second, 1, 1e6},
    Spelling{"min", Unit::second, 60, 1},
    Spelling{"mins", Unit::second, 60, 1},
    Spelling{"minute", Unit::second, 60, 1},
    Spelling{"minutes", Unit::second, 60, 1},
    Spelling{"seconds", Unit::second, 1, 1},
    Spelling{"secs", Unit::second, 1, 1},
    Spelling{"h", Unit::second, 3600, 1, Case::first},
    Spelling{"hr", Unit::second, 3600, 1},
    Spelling{"hrs", Unit::second, 3600, 1},
    Spelling{"hour", Unit::second, 3600, 1},
    Spelling{"hours", Unit::second, 3600, 1},
    Spelling{"C", Unit::celsius, 1, 1},
    Spelling{"degC", Unit::celsius, 1, 1},
    Spelling{"m", Unit::metre, 1, 1},
    Spelling{"metre", Unit::metre, 1, 1},
    Spelling{"metres", Unit::metre, 1, 1},
    Spelling{"meter", Unit::metre, 1, 1},
    Spelling{"meters", Unit::metre, 1, 1},
    Spelling{"mm", Unit::metre, 1, 1000},
    Spelling{"cm", Unit::metre, 1, 100},
    Spelling{"in", Unit::metre, 254, 10000},
    Spelling{"inch", Unit::metre, 254, 10000},
    Spelling{"inches", Unit::metre, 254, 10000},
    Spelling{"ft", Unit::metre, 3048, 10000},
    Spelling{"foot", Unit::metre, 3048, 10000},
    Spelling{"feet", Unit::metre, 3048, 10000},
    Spelling{"km", Unit::metre, 1000, 1},
    Spelling{"mm2", Unit::square_millimetre, 1, 1},
    Spelling{"mm^2", Unit::square_millimetre, 1, 1},
    Spelling{"sqmm", Unit::square_millimetre, 1, 1},
    Spelling{"qmm", Unit::square_millimetre, 1, 1},
    Spelling{"AWG", Unit::awg, 1, 1},
    Spelling{"ga", Unit::awg, 1, 1},
    Spelling{"gauge", Unit::awg, 1, 1},
    Spelling{"bar", Unit::pascal, 1e5, 1},
    Spelling{"mbar", Unit::pascal, 100, 1, Case::first},
    Spelling{"psi", Unit::pascal, pascal_per_psi, 1},
    Spelling{"Pa", Unit::pascal, 1, 1},
    Spelling{"kPa", Unit::pascal, 1000, 1},
    Spelling{"MPa", Unit::pascal, 1e6, 1, Case::first},
    Spelling{"rpm", Unit::rpm, 1, 1},
    Spelling{"%", Unit::percent, 1, 100},
    Spelling{"Hz", Unit::hertz, 1, 1},
    Spelling{"kHz", Unit::hertz, 1000, 1},
    Spelling{"kgm2", Unit::inertia, 1, 1},
    Spelling{"kg.m2", Unit::inertia, 1, 1},
    Spelling{"kgcm2", Unit::inertia, 1, 10000},
    Spelling{"kg.cm2", Unit::inertia, 1, 10000},
    Spelling{"henry", Unit::henry, 1, 1},
    Spelling{"mH", Unit::henry, 1, 1000, Case::first},
    Spelling{"uH", Unit::henry, 1, 1e6},
    Spelling{"way", Unit::way, 1, 1},
    Spelling{"ways", Unit::way, 1, 1},
    Spelling{"-way", Unit::way, 1, 1},
};

// Fahrenheit has an offset as well; it is known by its place in memory, not by its figures.
constexpr Spelling fahrenheit{"F", Unit::celsius, 5, 9};
// Only as a word of its own: glued to a number it would read as further digits.
constexpr Spelling per_minute{"1/min", Unit::rpm, 1, 1};

struct SignText {
    std::string_view typed;
    std::string_view plain;
};

/// Signs that a keyboard may offer, and their plain letters: both ohm signs, both micro signs, degrees, squared.
constexpr std::array signs{
    SignText{"\u03A9", "ohm"}, SignText{"\u2126", "ohm"}, SignText{"\u00B5", "u"},  SignText{"\u03BC", "u"},
    SignText{"\u00B0C", "C"},  SignText{"\u00BAC", "C"},  SignText{"\u00B0F", "F"}, SignText{"\u00BAF", "F"},
    SignText{"\u2103", "C"},   SignText{"\u2109", "F"},   SignText{"\u00B2", "2"},
};

std::string plain_unit(std::string_view typed) {
    std::string plain;
    while (!typed.empty()) {
        const SignText* found = nullptr;
        for (const SignText& sign : signs) {
            if (typed.substr(0, sign.typed.size()) == sign.typed) found = &sign;
        }
        plain += found ? found->plain : typed.substr(0, 1);
        typed.remove_prefix(found ? found->typed.size() : 1);
    }
    return plain;
}

bool all_capitals(std::string_view text) {
    return text.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string_view::npos;
}

bool spelt(const Spelling& spelling, std::string_view typed) {
    if (!same_word(spelling.text, typed)) return false;
    switch (spelling.letters) {
        case Case::free:
            return true;
        case Case::first:
            return spelling.text.front() == typed.front();
        case Case::first_only:
            return spelling.text.front() == typed.front() && !all_capitals(typed);
    }
    return false;
}

const Spelling* find_spelling(std::string_view typed) {
    const std::string plain = plain_unit(typed);
    if (plain.empty()) return nullptr;
    for (const Spelling& spelling : spellings) {
        if (spelt(spelling, plain)) return &spelling;
    }
    return spelt(fahrenheit, plain) ? &fahrenheit : nullptr;
}

/// The number at the start of a token, cut by its own rules so that no locale and no `0x`, `inf` or `nan` gets in.
struct NumberText {
    std::string plain;       ///< with a point, without a leading plus
    std::string_view whole;  ///< digits before the point
    std::string_view rest;   ///< what follows the number
    int decimals{0};
    int exponent{0};
    bool sign{false};
    bool comma{false};
    bool only_digits{true};
};

std::size_t digits_at(std::string_view text, std::size_t at) {
    std::size_t count = 0;
    while (at + count < text.size() && is_digit(text[at + count])) ++count;
    return count;
}

/// Takes `e3`, `E-2`; nothing when no digits follow the letter, for that is no exponent.
void take_exponent(std::string_view token, std::size_t& at, NumberText& number) {
    if (at >= token.size() || (token[at] != 'e' && token[at] != 'E')) return;
    std::size_t digits_start = at + 1;
    if (digits_start < token.size() && (token[digits_start] == '+' || token[digits_start] == '-')) ++digits_start;
    const std::size_t count = digits_at(token, digits_start);
    if (count == 0) return;
    const bool plus = token[at + 1] == '+';
    const std::string_view text = token.substr(at + (plus ? 2 : 1), digits_start + count - at - (plus ? 2 : 1));
    std::from_chars(text.data(), text.data() + text.size(), number.exponent);
    number.plain += 'e';
    number.plain += text;
    number.only_digits = false;
    at = digits_start + count;
}

std::optional<NumberText> cut_number(std::string_view token) {
    NumberText number;
    std::size_t at = 0;
    if (!token.empty() && (token[0] == '+' || token[0] == '-')) {
        number.sign = true;
        if (token[0] == '-') number.plain += '-';
        at = 1;
    }
    const std::size_t whole = digits_at(token, at);
    number.whole = token.substr(at, whole);
    number.plain += number.whole;
    at += whole;
    if (at < token.size() && (token[at] == '.' || token[at] == ',')) {
        number.comma = token[at] == ',';
        const std::size_t decimals = digits_at(token, at + 1);
        if (decimals == 0) return std::nullopt;
        number.plain += '.';
        number.plain += token.substr(at + 1, decimals);
        number.decimals = static_cast<int>(decimals);
        number.only_digits = false;
        at += 1 + decimals;
    }
    if (whole == 0 && (number.decimals == 0 || number.comma)) return std::nullopt;
    take_exponent(token, at, number);
    number.rest = token.substr(at);
    return number;
}

std::optional<double> value_of(const std::string& plain) {
    double value = 0;
    const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
    if (error != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

/// `3,500rpm` is three and a half or three and a half thousand: never guessed.
bool may_be_thousands(const NumberText& number) {
    return number.comma && number.decimals == 3 && number.whole.size() <= 3 && number.whole.front() != '0';
}

/// 1/0 to 4/0, the trade's names of gauges 0 to -3.
std::optional<Measure> parse_aught(std::string_view token) {
    if (token.size() < 4 || token[0] < '1' || token[0] > '4' || token.substr(1, 2) != "/0") return std::nullopt;
    const Spelling* unit = find_spelling(token.substr(3));
    if (!unit || unit->unit != Unit::awg) return std::nullopt;
    return Measure{static_cast<double>('1' - token[0]), Unit::awg, 1};
}

std::optional<Measure> gauge_of(const NumberText& number, double value) {
    constexpr double finest_gauge = 56;  // the thinnest drawn wire that has a number
    if (!number.only_digits || value > finest_gauge) return std::nullopt;
    const bool aughts = number.whole.find_first_not_of('0') == std::string_view::npos;
    if (!aughts) return Measure{value, Unit::awg, 1};
    if (number.whole.size() > 4) return std::nullopt;
    return Measure{1.0 - static_cast<double>(number.whole.size()), Unit::awg, 1};
}

/// `2R2`, `0R6`, `4k7`: ohms with the letter in the place of the point (letter and digit code of IEC 60062).
std::optional<Measure> parse_letter_code(std::string_view token) {
    const auto letter = token.find_first_of("Rk");
    if (letter == std::string_view::npos || letter == 0 || letter + 1 == token.size()) return std::nullopt;
    if (digits_at(token, 0) != letter || digits_at(token, letter + 1) != token.size() - letter - 1) return std::nullopt;
    const auto value = value_of(std::string(token.substr(0, letter)) + "." + std::string(token.substr(letter + 1)));
    if (!value) return std::nullopt;
    const double factor = token[letter] == 'k' ? 1000 : 1;
    return Measure{*value * factor, Unit::ohm,
                   factor * std::pow(10.0, -static_cast<double>(token.size() - letter - 1))};
}

bool may_be_signed(Unit unit) {
    return unit == Unit::volt || unit == Unit::ampere || unit == Unit::celsius;
}

}  // namespace

std::optional<Measure> parse_measure(std::string_view token) {
    if (const auto aught = parse_aught(token)) return aught;
    if (const auto code = parse_letter_code(token)) return code;
    const auto number = cut_number(token);
    if (!number || may_be_thousands(*number)) return std::nullopt;
    const auto value = value_of(number->plain);
    if (!value) return std::nullopt;
    const double digit = std::pow(10.0, number->exponent - number->decimals);
    if (number->rest.empty()) {
        if (number->sign || number->comma) return std::nullopt;
        return Measure{*value, Unit::none, digit};
    }
    const Spelling* unit = find_spelling(number->rest);
    if (!unit || (number->sign && !may_be_signed(unit->unit))) return std::nullopt;
    if (unit->unit == Unit::awg) return gauge_of(*number, *value);
    const double zero = unit == &fahrenheit ? 32 : 0;
    const Measure measure{(*value - zero) * unit->numerator / unit->denominator, unit->unit,
                          digit * unit->numerator / unit->denominator};
    if (!std::isfinite(measure.value)) return std::nullopt;
    return measure;
}

bool is_unit_word(std::string_view token) {
    return token == per_minute.text || find_spelling(token) != nullptr;
}

std::vector<std::string> unit_words(std::span<const Unit> of) {
    std::vector<std::string> words;
    const auto add = [&](const Spelling& spelling) {
        const bool wanted = of.empty() || std::find(of.begin(), of.end(), spelling.unit) != of.end();
        if (wanted) words.emplace_back(spelling.text);
    };
    std::for_each(spellings.begin(), spellings.end(), add);
    add(fahrenheit);
    return words;
}

}  // namespace voltfall
