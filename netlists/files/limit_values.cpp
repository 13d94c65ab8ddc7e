// `18-21A @13.5V`: a figure of [limits].
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "netlists/files/circuit_sections.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// The phrase without blanks, its look-alikes plain (and reported).
std::string closed_up(const TypedText& text, Problems& problems) {
    std::string joined;
    for (const Word& word : cut_words(text, problems)) joined += word.text;
    return joined;
}

/// `18-21A`, `18A-21A`, `0.5V`.
struct Range {
    Measure low;
    Measure high;
};
std::optional<Range> read_figures(const std::string& text, bool& backwards) {
    const auto dash = text.find('-', 1);
    const auto high = parse_measure(dash == std::string::npos ? text : text.substr(dash + 1));
    if (!high) return std::nullopt;
    if (dash == std::string::npos) return Range{*high, *high};
    std::string low_text = text.substr(0, dash);
    const auto unit_at = text.find_first_not_of("0123456789.,", dash + 1);
    // `18-21A`: the unit stands once, with its prefix on both.
    const bool bare = low_text.find_first_not_of("0123456789.,") == std::string::npos;
    if (bare && unit_at != std::string::npos) low_text += text.substr(unit_at);
    const auto low = parse_measure(low_text);
    if (!low || low->unit != high->unit) return std::nullopt;
    backwards = low->value > high->value;
    if (backwards) return std::nullopt;
    return Range{*low, *high};
}

/// A figure that a position has, against one that a place must not exceed.
bool is_figure_of_position(const std::string& key) {
    const auto dot = key.rfind('.');
    const std::string tail = dot == std::string::npos ? "" : key.substr(dot + 1);
    return tail == "amps" || tail == "volts" || tail == "rpm";
}

Unit expected_unit(const std::string& key) {
    if (key == "feed" || key == "ground") return Unit::volt;
    const std::string tail = key.substr(std::min(key.size(), key.rfind('.') + 1));
    if (tail == "amps") return Unit::ampere;
    if (tail == "volts") return Unit::volt;
    return tail == "rpm" ? Unit::rpm : Unit::none;
}

/// The row of bounds of a limit in that unit, or null where no limit is so measured.
const FigureBounds* bounds_in(Unit unit) {
    for (const FigureBounds& row : figure_rows()) {
        if (row.of == "limit" && row.unit == unit && row.figure != "supply") return &row;
    }
    return nullptr;
}

class LimitReader {
public:
    LimitReader(CircuitDraft& draft, const TypedText& text, Limit& limit) : draft_(draft), text_(text), limit_(limit) {}

    bool read() {
        const std::string typed = closed_up(text_, draft_.problems);
        const auto at = typed.find('@');
        std::string figure = typed.substr(0, at);
        const char sign = figure.empty() ? ' ' : figure[0];
        if (sign == '<' || sign == '>' || sign == '~') figure.erase(0, 1);
        const auto range = figure.empty() ? std::nullopt : read_figures(figure, backwards_);
        if (!range || !has_right_unit(range->high.unit)) return refuse();
        if (!holds(*bounds_in(range->high.unit), range->low.value, text_) ||
            !holds(*bounds_in(range->high.unit), range->high.value, text_))
            return false;
        take(*range, sign, figure.find('-', 1) == std::string::npos);
        return at == std::string::npos || read_supply(typed.substr(at + 1));
    }

private:
    bool has_right_unit(Unit unit) const {
        const Unit expected = expected_unit(limit_.key);
        return bounds_in(unit) != nullptr && (expected == Unit::none || unit == expected);
    }

    bool refuse() {
        const Unit unit = expected_unit(limit_.key);
        if (backwards_) {
            draft_.problems.error(
                ProblemCode::no_figure, text_.place,
                fmt::format("'{}' of '{}' runs backwards: the lower figure stands first", text_.text, limit_.key),
                fmt::format("for example {} = \"{}\"", limit_.key, limit_example(limit_.key)));
            return false;
        }
        draft_.problems.error(ProblemCode::no_figure, text_.place,
                              fmt::format("'{}' is no limit of '{}'{}", text_.text, limit_.key,
                                          unit == Unit::none ? "" : fmt::format(", expected {}", unit_name(unit))),
                              fmt::format("for example {} = \"{}\"", limit_.key, limit_example(limit_.key)));
        return false;
    }

    bool holds(const FigureBounds& bounds, double value, const TypedText& typed) {
        const auto wrong = outside_bounds(bounds, value, typed.text, "hi.amps = \"18-21A @13.5V\", feed = \"0.5V\"");
        if (wrong)
            draft_.problems.error(ProblemCode::figure_out_of_range, typed.place, wrong->message, wrong->suggestion);
        return !wrong;
    }

    /// One figure of a position is that figure; one of a drop or a place is the most that it may be.
    void take(const Range& range, char sign, bool one) {
        limit_.unit = range.high.unit;
        limit_.low = range.low.value;
        limit_.high = range.high.value;
        if (sign == '>') limit_.high = std::numeric_limits<double>::infinity();
        if (sign == '<' || (one && sign != '>' && !is_figure_of_position(limit_.key)))
            limit_.low = -std::numeric_limits<double>::infinity();
    }

    bool read_supply(const std::string& typed) {
        const auto supply = parse_measure(typed);
        if (!supply || supply->unit != Unit::volt) return refuse();
        limit_.at_volts = supply->value;
        const std::string_view whole = text_.text;
        const auto at = whole.find('@');
        const std::string_view behind = whole.substr(at);
        const TypedText as_typed{std::string(behind),
                                 text_.place.shifted(character_count(whole.substr(0, at)), character_count(behind))};
        return holds(figure_bounds("limit", "supply", Unit::volt), supply->value, as_typed);
    }

    CircuitDraft& draft_;
    const TypedText& text_;
    Limit& limit_;
    bool backwards_{false};
};

}  // namespace

std::string_view limit_example(std::string_view key) {
    switch (expected_unit(std::string(key))) {
        case Unit::volt:
            return is_figure_of_position(std::string(key)) ? "12-14V" : "0.5V";
        case Unit::rpm:
            return "3000-3600rpm";
        case Unit::ampere:
            return "18-21A @13.5V";
        default:
            return "40C";
    }
}

bool read_limit(CircuitDraft& draft, const TypedText& text, Limit& limit) {
    return LimitReader(draft, text, limit).read();
}

}  // namespace voltfall
