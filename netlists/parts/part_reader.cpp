#include "netlists/parts/part_reader.hpp"

#include <algorithm>

#include "netlists/parts/feed_words.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// How a figure is to be written: " in ohm", " as a bare number".
std::string in_unit(Unit unit) {
    return unit == Unit::none ? " as a bare number" : " in " + std::string(unit_name(unit));
}

std::optional<Measure> measure_of(const Word& word) {
    return word.measure ? word.measure : parse_measure(without_marks(word.text));
}

}  // namespace

Parameter default_parameter(std::string_view name, Unit unit, std::string_view row) {
    const DefaultRow& found = default_row(row);
    return {std::string(name),
            found.value,
            unit,
            std::string(found.name) + ": " + std::string(found.source),
            0,
            false,
            false};
}

PartReader::PartReader(WordReader& words, const Circuit& circuit, Problems& problems)
    : words_(words), circuit_(circuit), problems_(problems) {
    while (!words_.at_end()) line_.push_back(words_.take());
    used_.assign(line_.size(), false);
}

SourcePlace PartReader::place_of(const Word& word) const {
    return words_.place(&word);
}
SourcePlace PartReader::place() const {
    return words_.phrase().place.shifted(0, static_cast<int>(std::max<std::size_t>(1, words_.phrase().text.size())));
}
void PartReader::error(ProblemCode code, const SourcePlace& at, std::string message, std::string suggestion) {
    problems_.error(code, at, std::move(message), std::move(suggestion));
}
void PartReader::error_of_line(ProblemCode code, std::string message, std::string suggestion) {
    of_line_.error(code, place(), std::move(message), std::move(suggestion));
}
std::string PartReader::example(const Part& part) const {
    return "for example " + std::string(part.kind->example);
}

/// A number behind a keyword belongs to the keyword.
bool PartReader::claimed(std::size_t at, const Part& part) const {
    // `connector fuse box feed, 2 way`: what stands behind a comma begins anew.
    if (at == 0 || line_[at].after_comma) return false;
    static const std::vector<std::string> keywords{"charging", "coil",    "contact", "stall", "idle",
                                                   "brush",    "pulls",   "drops",   "opens", "closes",
                                                   "healthy",  "limiter", "at",      "feed",  "resistor"};
    const Word& before = line_[at - 1];
    // `connector fuse box feed 2 way`: where text may stand anywhere, only the contact's ohms have a keyword.
    if (part.kind->free_text == FreeText::anywhere) return same_word(before.text, "contact");
    return std::any_of(keywords.begin(), keywords.end(),
                       [&](const std::string& k) { return same_word(k, before.text); });
}

/// Does `@` lead the number: `@13.5V`, `@ 13.5V`?
bool PartReader::is_marked(std::size_t at) const {
    return line_[at].text.starts_with('@') || (at > 0 && line_[at - 1].text == "@" && !line_[at].after_comma);
}

/// The first figure in that unit. Behind `@` stand volts, before others: `motor 20V @13.5V` has its volts there, and
/// `motor 20A @13.5A` no second amperes.
std::optional<std::size_t> PartReader::find_unused(const Part& part, Unit unit) const {
    std::optional<std::size_t> first;
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i] || line_[i].quoted || claimed(i, part)) continue;
        const auto measure = measure_of(line_[i]);
        if (!measure || measure->unit != unit) continue;
        if (is_marked(i) && unit == Unit::volt) return i;
        if (!first && !is_marked(i)) first = i;
    }
    return first;
}

std::optional<std::size_t> PartReader::find_word(std::string_view word) {
    if (std::find(known_.begin(), known_.end(), word) == known_.end()) known_.emplace_back(word);
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (!used_[i] && same_word(line_[i].text, word)) return i;
    }
    return std::nullopt;
}

/// A keyword with its number where there is one, else the first that stands at all.
std::optional<std::size_t> PartReader::find_keyword(std::string_view keyword) {
    const auto first = find_word(keyword);
    for (std::size_t i = first.value_or(line_.size()); i < line_.size(); ++i) {
        if (!used_[i] && same_word(line_[i].text, keyword) && is_next_number(i)) return i;
    }
    return first;
}

bool PartReader::is_next_number(std::size_t at) const {
    return at + 1 < line_.size() && !line_[at + 1].quoted && !used_[at + 1] && !line_[at + 1].after_comma &&
           looks_like_number(line_[at + 1].text);
}

bool PartReader::is_free(std::size_t at, const Part& part) const {
    if (part.kind->free_text == FreeText::anywhere) return true;
    return std::any_of(line_.begin(), line_.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                       [](const Word& word) { return word.after_comma; });
}

/// A keyword without its number is text of the user's own where that may stand, unless it is all that is said there.
bool PartReader::is_text(std::size_t at, const Part& part) const {
    const bool begins = at == 0 || line_[at].after_comma;
    const bool alone = begins && (at + 1 >= line_.size() || line_[at + 1].after_comma);
    const bool only_text = part.kind->free_text == FreeText::anywhere;
    return is_free(at, part) && (only_text ? !alone : !begins);
}

/// The number that was meant for a figure that stands nowhere: one that does not read, has no unit, or a unit that no
/// figure of the kind has.
std::optional<std::size_t> PartReader::find_misread(const Part& part) const {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i] || line_[i].quoted || line_[i].after_comma || claimed(i, part)) continue;
        if (!looks_like_number(line_[i].text)) continue;
        const auto measure = measure_of(line_[i]);
        if (!measure || measure->unit == Unit::none || !has_figure_in(*part.kind, measure->unit)) return i;
        // `motor 20V @13.5V`: the figure in that unit stands elsewhere, behind its mark.
        const auto marked = find_unused(part, measure->unit);
        if (marked && *marked != i && is_marked(*marked)) return i;
    }
    return std::nullopt;
}

/// The value where the figure can be so, else a problem at its word and the nearest that can.
double PartReader::within(const FigureBounds& bounds, double value, std::size_t at, const Part& part) {
    const auto wrong = outside_bounds(bounds, value, line_[at].text, part.kind->example);
    if (!wrong) return value;
    error(ProblemCode::figure_out_of_range, place_of(line_[at]), wrong->message, wrong->suggestion);
    return std::clamp(value, bounds.least, bounds.most);
}

Parameter PartReader::read_number(std::size_t at, const Part& part, std::string_view name, Unit unit) {
    used_[at] = true;
    if (at > 0 && line_[at - 1].text == "@" && unit == Unit::volt && !line_[at].after_comma) used_[at - 1] = true;
    Parameter parameter{std::string(name), measure_of(line_[at])->value, unit, "file", 0, true, false};
    parameter.value = within(figure_bounds(*part.kind, name, unit), parameter.value, at, part);
    parameter.guessed = !line_[at].text.empty() && line_[at].text.front() == '~';
    if (at + 1 < line_.size() && !used_[at + 1] && line_[at + 1].measure &&
        line_[at + 1].measure->unit == Unit::percent && !line_[at + 1].after_comma) {
        const FigureBounds& bounds = figure_bounds("figure", "tolerance", Unit::percent);
        parameter.tolerance = within(bounds, line_[at + 1].measure->value, at + 1, part);
        used_[at + 1] = true;
    }
    return parameter;
}

void PartReader::required(Part& part, std::string_view name, Unit unit) {
    if (const auto at = find_unused(part, unit)) {
        part.parameters.push_back(read_number(*at, part, name, unit));
        return;
    }
    const FigureBounds& bounds = figure_bounds(*part.kind, name, unit);
    const std::string figure = std::string(name) + in_unit(unit);
    part.parameters.push_back(
        {std::string(name), std::clamp(1.0, bounds.least, bounds.most), unit, "missing", 0, false, false});
    const auto at = find_misread(part);
    if (!at) {
        const std::string missing =
            " without " + std::string(name) + (unit == Unit::none ? "" : " (" + std::string(unit_name(unit)) + ")");
        return error_of_line(ProblemCode::missing_figure,
                             "'" + part.name + "' is a " + std::string(part.kind->word) + missing, example(part));
    }
    const auto measure = measure_of(line_[*at]);
    if (measure && measure->unit != Unit::none) {
        used_[*at] = true;
        return error(ProblemCode::wrong_unit, place_of(line_[*at]),
                     "'" + line_[*at].text + "' is in the wrong unit; expected " + figure, example(part));
    }
    if (measure && number_as_typed(std::span(line_).subspan(*at)).words == 1) {
        used_[*at] = true;
        return error(ProblemCode::no_unit, place_of(line_[*at]),
                     "'" + line_[*at].text + "' has no unit; expected " + figure,
                     "write it with its unit, " + example(part));
    }
    report_number(*at, part);
}

void PartReader::optional(Part& part, std::string_view name, Unit unit, double fallback, std::string_view source) {
    if (const auto at = find_unused(part, unit)) {
        part.parameters.push_back(read_number(*at, part, name, unit));
    } else {
        part.parameters.push_back({std::string(name), fallback, unit, std::string(source), 0, false, false});
    }
}

void PartReader::rating(Part& part) {
    optional(part, "rated amps", Unit::ampere, 0, "not stated");
    if (!part.parameters.back().typed) part.parameters.pop_back();
}

void PartReader::optional_row(Part& part, std::string_view name, Unit unit, std::string_view row) {
    const Parameter fallback = default_parameter(name, unit, row);
    optional(part, name, unit, fallback.value, fallback.source);
}

std::optional<Unit> PartReader::unit_after(std::string_view keyword) {
    const auto at = find_keyword(keyword);
    if (!at || *at + 1 >= line_.size()) return std::nullopt;
    const auto measure = measure_of(line_[*at + 1]);
    return measure ? std::optional<Unit>(measure->unit) : std::nullopt;
}

bool PartReader::after(Part& part, std::string_view keyword, std::string_view name, Unit unit) {
    const auto at = find_keyword(keyword);
    if (!at) return false;
    const std::string expected = "expected " + std::string(name) + in_unit(unit);
    if (!is_next_number(*at)) {
        if (is_text(*at, part)) return false;
        used_[*at] = true;
        error(ProblemCode::missing_figure, place_of(line_[*at]),
              "'" + line_[*at].text + "' has no figure behind it; " + expected, example(part));
        return false;
    }
    used_[*at] = true;
    const auto measure = measure_of(line_[*at + 1]);
    if (measure && measure->unit == unit) {
        part.parameters.push_back(read_number(*at + 1, part, name, unit));
        return true;
    }
    if (measure && number_as_typed(std::span(line_).subspan(*at + 1)).words == 1) {
        error(ProblemCode::wrong_unit, place_of(line_[*at + 1]),
              "'" + std::string(keyword) + " " + line_[*at + 1].text + "': " + expected, example(part));
        used_[*at + 1] = true;
    } else {
        report_number(*at + 1, part);
    }
    return false;
}

std::optional<Word> PartReader::word_after(const Part& part, std::string_view keyword, std::string_view wanted) {
    const auto at = find_word(keyword);
    if (!at) return std::nullopt;
    used_[*at] = true;
    if (*at + 1 >= line_.size() || line_[*at + 1].after_comma || used_[*at + 1]) {
        error(ProblemCode::missing_word, place_of(line_[*at]),
              "'" + line_[*at].text + "' of '" + part.name + "' has nothing behind it",
              "for example " + std::string(wanted));
        return std::nullopt;
    }
    used_[*at + 1] = true;
    return line_[*at + 1];
}

void PartReader::after_or(Part& part, std::string_view keyword, std::string_view name, Unit unit, double fallback,
                          std::string_view source) {
    if (!after(part, keyword, name, unit)) {
        part.parameters.push_back({std::string(name), fallback, unit, std::string(source), 0, false, false});
    }
}

void PartReader::after_or_row(Part& part, std::string_view keyword, std::string_view name, Unit unit,
                              std::string_view row) {
    const Parameter fallback = default_parameter(name, unit, row);
    after_or(part, keyword, name, unit, fallback.value, fallback.source);
}

std::string PartReader::flag(Part& part, std::initializer_list<std::string_view> words) {
    std::optional<std::size_t> first;
    std::string taken;
    for (const std::string_view word : words) {
        const auto at = find_word(word);
        if (!at || (first && *first < *at)) continue;
        first = at;
        taken = word;
    }
    if (!first) return taken;
    used_[*first] = true;
    part.flags.push_back(taken);
    return taken;
}

void PartReader::feed(Part& part) {
    const auto at = find_keyword("feed");
    if (!at) return;
    const bool behind = *at + 1 < line_.size() && !line_[*at + 1].after_comma && !used_[*at + 1];
    if (!is_next_number(*at) && is_text(*at, part)) return;
    used_[*at] = true;
    if (behind) used_[*at + 1] = true;
    if (behind && (line_[*at + 1].text == "30" || line_[*at + 1].text == "15")) {
        part.feed = line_[*at + 1].text;
        return;
    }
    const std::string_view called = behind ? feed_called(line_[*at + 1].text) : "";
    error(ProblemCode::unknown_word, place_of(line_[behind ? *at + 1 : *at]),
          "'feed' of '" + part.name + "' must be 30 (always live) or 15 (live with the key on)" +
              (behind ? ", not '" + line_[*at + 1].text + "'" : ""),
          "feed " + std::string(called.empty() ? "30" : called));
}

const Word* PartReader::peek() const {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (!used_[i]) return &line_[i];
    }
    return nullptr;
}

Word PartReader::take() {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i]) continue;
        used_[i] = true;
        return line_[i];
    }
    return {};
}

std::optional<Parameter> PartReader::take_number(const Part& part, std::string_view name, Unit unit) {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i]) continue;
        const auto measure = measure_of(line_[i]);
        if (!measure || measure->unit != unit) return std::nullopt;
        return read_number(i, part, name, unit);
    }
    return std::nullopt;
}

}  // namespace voltfall
