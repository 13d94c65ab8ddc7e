// `18-21A @13.5V`: a figure of [limits].
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "netlists/files/circuit_sections.hpp"

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
std::optional<Range> read_range(const std::string& text) {
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
    if (!low || low->unit != high->unit || low->value > high->value) return std::nullopt;
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

}  // namespace

bool read_limit(CircuitDraft& draft, const TypedText& text, Limit& limit) {
    const std::string typed = closed_up(text, draft.problems);
    const auto at = typed.find('@');
    std::string figure = typed.substr(0, at);
    const char sign = figure.empty() ? ' ' : figure[0];
    if (sign == '<' || sign == '>' || sign == '~') figure.erase(0, 1);
    const auto range = figure.empty() ? std::nullopt : read_range(figure);
    const auto supply = at == std::string::npos ? std::nullopt : parse_measure(typed.substr(at + 1));
    const Unit unit = expected_unit(limit.key);
    const bool wrong_unit =
        range && (range->high.unit == Unit::none || (unit != Unit::none && range->high.unit != unit));
    if (!range || wrong_unit || (at != std::string::npos && (!supply || supply->unit != Unit::volt))) {
        draft.problems.error(text.place,
                             fmt::format("'{}' is no limit of '{}'{}", text.text, limit.key,
                                         unit == Unit::none ? "" : fmt::format(", expected {}", unit_name(unit))),
                             "for example hi.amps = \"18-21A @13.5V\", feed = \"0.5V\", C303 = \"40C\"");
        return false;
    }
    limit.unit = range->high.unit;
    limit.low = range->low.value;
    limit.high = range->high.value;
    // One figure of a position is that figure; one of a drop or a place is the most that it may be.
    const bool one = figure.find('-', 1) == std::string::npos;
    if (sign == '>') limit.high = std::numeric_limits<double>::infinity();
    if (sign == '<' || (one && sign != '>' && !is_figure_of_position(limit.key)))
        limit.low = -std::numeric_limits<double>::infinity();
    if (supply) limit.at_volts = supply->value;
    return true;
}

}  // namespace voltfall
