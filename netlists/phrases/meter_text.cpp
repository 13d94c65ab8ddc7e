#include "netlists/phrases/meter_text.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <optional>
#include <vector>

#include "netlists/text/ascii_digits.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A piece between blanks and separators.
struct LogPiece {
    std::size_t from{};
    std::string_view text;
    bool separated{false};  ///< a separator of a log stands right behind it
};

/// Where the words end and a doubt or a note begins.
std::size_t end_of_words(std::string_view phrase) {
    bool quoted = false;
    std::size_t end = phrase.size();
    for (std::size_t i = 0; i < phrase.size(); ++i) {
        if (phrase[i] == '"') quoted = !quoted;
        if (phrase[i] == '#' && !quoted) {
            end = i;
            break;
        }
    }
    const auto before = [&](const char* skipped) {
        while (end > 0 && std::string_view(skipped).find(phrase[end - 1]) != std::string_view::npos) --end;
    };
    before(" \t\r");
    before("?");
    before(" \t\r,;");
    return end;
}

/// Commas part the fields of a log, unless semicolons or tabs do: then they are decimal.
std::vector<LogPiece> pieces_of(std::string_view words) {
    const bool decimal_comma = words.find_first_of(";\t") != std::string_view::npos;
    const auto parts = [&](std::size_t at) {
        const char c = words[at];
        if (c == ';' || c == '\t') return true;
        if (c != ',') return false;
        const bool inside = at > 0 && at + 1 < words.size() && is_digit(words[at - 1]) && is_digit(words[at + 1]);
        return !(decimal_comma && inside);
    };
    std::vector<LogPiece> pieces;
    for (std::size_t at = 0; at < words.size();) {
        if (words[at] == ' ' || parts(at)) {
            ++at;
            continue;
        }
        std::size_t end = at;
        while (end < words.size() && words[end] != ' ' && !parts(end)) ++end;
        std::string_view text = words.substr(at, end - at);
        if (text.size() > 1 && text.front() == '"' && text.back() == '"') text = text.substr(1, text.size() - 2);
        pieces.push_back({at, text, end < words.size() && parts(end)});
        at = end;
    }
    return pieces;
}

/// Digits in groups: "2026-11-29" has {4, 2, 2}; empty where anything else stands between them.
std::vector<std::size_t> digit_groups(std::string_view text, std::string_view between) {
    std::vector<std::size_t> groups{0};
    for (const char c : text) {
        if (is_digit(c))
            ++groups.back();
        else if (between.find(c) != std::string_view::npos)
            groups.push_back(0);
        else
            return {};
    }
    return groups;
}

/// A date, or a time with its seconds.
bool is_stamp(std::string_view text) {
    if (const auto t = text.find('T'); t != std::string_view::npos) text = text.substr(0, t);
    for (const char* between : {"-", "/", ".", ":"}) {
        const auto groups = digit_groups(text, between);
        const bool filled = std::none_of(groups.begin(), groups.end(), [](std::size_t n) { return n == 0 || n > 4; });
        if (groups.size() == 3 && filled && groups[1] <= 2) return true;
    }
    const auto colon = text.find(':');
    return colon != std::string_view::npos && std::count(text.begin(), text.end(), ':') == 2 &&
           !digit_groups(text, ":.,").empty();
}

/// "12.34", "-0,5", "+1.234E+01" with plain digits; nullopt where it is no bare number.
std::optional<std::string> plain_number_of(std::string_view text) {
    std::string digits(text);
    std::replace(digits.begin(), digits.end(), ',', '.');
    std::string_view rest = digits;
    if (rest.starts_with('+')) rest.remove_prefix(1);
    double value = 0;
    const auto read = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (rest.empty() || read.ec != std::errc() || read.ptr != rest.data() + rest.size()) return std::nullopt;
    if (!is_digit(rest.back())) return std::nullopt;
    const auto power = rest.find_first_of("eE");
    if (power == std::string_view::npos) return std::string(rest);
    int exponent = 0;
    const std::string_view typed = rest.substr(power + (rest[power + 1] == '+' ? 2 : 1));
    std::from_chars(typed.data(), typed.data() + typed.size(), exponent);
    const auto point = rest.find('.');
    const int shown = point == std::string_view::npos ? 0 : static_cast<int>(power - point) - 1;
    return write_fixed(value, std::clamp(shown - exponent, 0, 9));
}

enum class Current { unsaid, direct, alternating };

struct MeterUnit {
    std::string unit;
    Current current{Current::unsaid};
};

bool ends_as(std::string_view text, std::string_view end) {
    return text.size() >= end.size() && same_word(text.substr(text.size() - end.size()), end);
}

/// A unit alone, "V", "mVDC", "AAC".
std::optional<MeterUnit> unit_of(std::string_view text) {
    if (is_unit_word(text)) return MeterUnit{std::string(text)};
    for (const auto& [word, current] : {std::pair{"DC", Current::direct}, std::pair{"AC", Current::alternating}}) {
        if (!ends_as(text, word)) continue;
        const std::string_view unit = text.substr(0, text.size() - 2);
        const bool electric = ends_as(unit, "V") || ends_as(unit, "A");
        if (electric && is_unit_word(unit)) return MeterUnit{std::string(unit), current};
    }
    return std::nullopt;
}

Current current_of(std::string_view text) {
    if (same_word(text, "DC")) return Current::direct;
    return same_word(text, "AC") ? Current::alternating : Current::unsaid;
}

bool is_overload(std::string_view text) {
    if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
    static constexpr std::string_view shown[] = {"OL", "0L", "O.L", "0.L", ".0L", ".OL", "0.0L"};
    return std::any_of(std::begin(shown), std::end(shown), [&](std::string_view s) { return same_word(s, text); });
}

/// What a display says of its own range and hold in front of a value.
bool is_range_word(std::string_view text) {
    static constexpr std::string_view shown[] = {"AUTO", "MANU", "HOLD", "RANGE"};
    return std::find(std::begin(shown), std::end(shown), text) != std::end(shown);
}

/// What a meter shows, at the pieces from `at` on.
struct Shown {
    std::string value;
    std::size_t pieces{};
    Current current{Current::unsaid};
};

/// `12.34V` and `12.34VDC`: where the unit begins.
std::size_t end_of_number(std::string_view text) {
    std::size_t end = 0;
    while (end < text.size() &&
           (is_digit(text[end]) || std::string_view("+-.,").find(text[end]) != std::string_view::npos))
        ++end;
    return end;
}

std::optional<Shown> shown_at(const std::vector<LogPiece>& pieces, std::size_t at) {
    const std::string_view text = pieces[at].text;
    const auto behind = [&](std::size_t n) {
        return at + n < pieces.size() ? pieces[at + n].text : std::string_view();
    };
    if (is_overload(text)) return Shown{"OL", is_unit_word(behind(1)) ? 2u : 1u};
    Shown shown;
    if (const auto number = plain_number_of(text)) {
        const auto unit = unit_of(behind(1));
        if (!unit) return std::nullopt;
        shown = {*number + unit->unit, 2, unit->current};
    } else {
        const std::size_t cut = end_of_number(text);
        const auto digits = plain_number_of(text.substr(0, cut));
        const auto unit = unit_of(text.substr(cut));
        if (!digits || !unit) return std::nullopt;
        shown = {*digits + unit->unit, 1, unit->current};
    }
    if (shown.current == Current::unsaid && current_of(behind(shown.pieces)) != Current::unsaid)
        shown.current = current_of(behind(shown.pieces++));
    return shown;
}

/// The piece at which the line of a log begins: at its date or time, with a number of the line before it, else at a
/// number whose unit is the next field. `pieces.size()` where there is none.
std::size_t begin_of_log(const std::vector<LogPiece>& pieces) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (is_stamp(pieces[i].text)) {
            const bool counted = i > 0 && pieces[i - 1].separated && plain_number_of(pieces[i - 1].text);
            return counted ? i - 1 : i;
        }
        const bool fields = i + 1 < pieces.size() && pieces[i].separated && unit_of(pieces[i + 1].text);
        if (fields && plain_number_of(pieces[i].text)) return i;
    }
    return pieces.size();
}

}  // namespace

MeterText without_meter_words(std::string_view phrase) {
    const std::size_t end = end_of_words(phrase);
    const std::vector<LogPiece> pieces = pieces_of(phrase.substr(0, end));
    const MeterText as_typed{std::string(phrase)};
    const auto with = [&](const LogPiece& first, const Shown& shown) {
        std::string text(phrase.substr(0, first.from));
        return MeterText{text + shown.value + std::string(phrase.substr(end)), shown.current == Current::alternating};
    };
    const std::size_t log = begin_of_log(pieces);
    for (std::size_t i = log; i < pieces.size(); ++i) {
        if (is_stamp(pieces[i].text)) continue;
        if (const auto shown = shown_at(pieces, i)) return with(pieces[log], *shown);
    }
    // A display: the last words of the phrase, up to its end and to what it says of its range.
    constexpr std::size_t most_pieces = 3;
    std::size_t last = pieces.size();
    while (last > 1 && is_range_word(pieces[last - 1].text)) --last;
    for (std::size_t count = std::min(most_pieces, last); count > 0; --count) {
        const std::size_t first = last - count;
        const auto shown = shown_at(pieces, first);
        if (!shown || shown->pieces != count) continue;
        const bool mode = first > 0 && is_range_word(pieces[first - 1].text);
        const bool changed = mode || last < pieces.size() || shown->current != Current::unsaid || shown->value == "OL";
        return changed ? with(pieces[mode ? first - 1 : first], *shown) : as_typed;
    }
    return as_typed;
}

}  // namespace voltfall
