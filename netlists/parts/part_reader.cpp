#include "netlists/parts/part_reader.hpp"

#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A word without the marks that lead it to a number: `@13.5V`, `~1.4m`.
std::string_view bare(std::string_view text) {
    while (!text.empty() && (text.front() == '@' || text.front() == '~')) text.remove_prefix(1);
    return text;
}

std::optional<Measure> measure_of(const Word& word) {
    return word.measure ? word.measure : parse_measure(bare(word.text));
}

}  // namespace

Parameter default_parameter(std::string_view name, Unit unit, std::string_view row) {
    const DefaultRow& found = default_row(row);
    return {std::string(name), found.value, unit, std::string(found.name) + ": " + std::string(found.source), 0, false,
            false};
}

PartReader::PartReader(WordReader& words, const Circuit& circuit, Problems& problems)
    : words_(words), circuit_(circuit), problems_(problems) {
    while (!words_.at_end()) line_.push_back(words_.take());
    used_.assign(line_.size(), false);
}

SourcePlace PartReader::place_of(const Word& word) const { return words_.place(&word); }
SourcePlace PartReader::place() const {
    return words_.phrase().place.shifted(0, static_cast<int>(std::max<std::size_t>(1, words_.phrase().text.size())));
}
void PartReader::error(const SourcePlace& at, std::string message, std::string suggestion) {
    problems_.error(at, std::move(message), std::move(suggestion));
}

/// A number behind a keyword belongs to the keyword.
bool PartReader::claimed(std::size_t at) const {
    // `connector fuse box feed, 2 way`: what stands behind a comma begins anew.
    if (at == 0 || line_[at].after_comma) return false;
    static const std::vector<std::string> keywords{"charging", "coil",  "contact", "stall",   "idle",   "brush",
                                                   "pulls",    "drops", "opens",   "closes",  "healthy", "limiter",
                                                   "at",       "feed",  "resistor"};
    const Word& before = line_[at - 1];
    return std::any_of(keywords.begin(), keywords.end(), [&](const std::string& k) { return same_word(k, before.text); });
}

std::optional<std::size_t> PartReader::find_unused(Unit unit) const {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i] || line_[i].quoted || claimed(i)) continue;
        const auto measure = measure_of(line_[i]);
        if (measure && measure->unit == unit) return i;
    }
    return std::nullopt;
}

std::optional<std::size_t> PartReader::find_word(std::string_view word) {
    if (std::find(known_.begin(), known_.end(), word) == known_.end()) known_.emplace_back(word);
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (!used_[i] && same_word(line_[i].text, word)) return i;
    }
    return std::nullopt;
}

Parameter PartReader::read_number(std::size_t at, std::string_view name, Unit unit) {
    used_[at] = true;
    Parameter parameter{std::string(name), measure_of(line_[at])->value, unit, "file", 0, true, false};
    parameter.guessed = !line_[at].text.empty() && line_[at].text.front() == '~';
    if (at + 1 < line_.size() && !used_[at + 1] && line_[at + 1].measure &&
        line_[at + 1].measure->unit == Unit::percent && !line_[at + 1].after_comma) {
        parameter.tolerance = line_[at + 1].measure->value;
        used_[at + 1] = true;
    }
    return parameter;
}

void PartReader::required(Part& part, std::string_view name, Unit unit) {
    if (const auto at = find_unused(unit)) {
        part.parameters.push_back(read_number(*at, name, unit));
        if (part.parameters.back().value <= 0) {
            error(place_of(line_[*at]), "'" + line_[*at].text + "' must be more than zero",
                  "for example " + std::string(part.kind->example));
            part.parameters.back().value = 1;
        }
        return;
    }
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i] || claimed(i) || !line_[i].measure || line_[i].measure->unit != Unit::none) continue;
        error(place_of(line_[i]), "'" + line_[i].text + "' has no unit; expected " + std::string(name) + " in " +
                                      std::string(unit_name(unit)),
              "write it with its unit, for example " + std::string(part.kind->example));
        used_[i] = true;
        part.parameters.push_back({std::string(name), 1, unit, "file", 0, true, false});
        return;
    }
    error(place(), "'" + part.name + "' is a " + std::string(part.kind->word) + " without " + std::string(name) + " (" +
                       std::string(unit_name(unit)) + ")",
          "for example " + std::string(part.kind->example));
    part.parameters.push_back({std::string(name), 1, unit, "missing", 0, false, false});
}

void PartReader::optional(Part& part, std::string_view name, Unit unit, double fallback, std::string_view source) {
    if (const auto at = find_unused(unit)) {
        part.parameters.push_back(read_number(*at, name, unit));
    } else {
        part.parameters.push_back({std::string(name), fallback, unit, std::string(source), 0, false, false});
    }
}

void PartReader::optional_row(Part& part, std::string_view name, Unit unit, std::string_view row) {
    const Parameter fallback = default_parameter(name, unit, row);
    optional(part, name, unit, fallback.value, fallback.source);
}

std::optional<Unit> PartReader::unit_after(std::string_view keyword) {
    const auto at = find_word(keyword);
    if (!at || *at + 1 >= line_.size()) return std::nullopt;
    const auto measure = measure_of(line_[*at + 1]);
    return measure ? std::optional<Unit>(measure->unit) : std::nullopt;
}

bool PartReader::after(Part& part, std::string_view keyword, std::string_view name, Unit unit) {
    const auto at = find_word(keyword);
    if (!at) return false;
    const bool number = *at + 1 < line_.size() && measure_of(line_[*at + 1]) &&
                        measure_of(line_[*at + 1])->unit == unit;
    if (!number) {
        // The word may be part of the print text (`contact plate`); only a number makes it the keyword.
        const bool has_other = *at + 1 < line_.size() && measure_of(line_[*at + 1]);
        if (!has_other) return false;
        error(place_of(line_[*at + 1]), "'" + std::string(keyword) + " " + line_[*at + 1].text + "': expected " +
                                            std::string(name) + " in " + std::string(unit_name(unit)),
              "for example " + std::string(part.kind->example));
        used_[*at] = used_[*at + 1] = true;
        return false;
    }
    used_[*at] = true;
    part.parameters.push_back(read_number(*at + 1, name, unit));
    return true;
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
    std::string taken;
    for (const std::string_view word : words) {
        const auto at = find_word(word);
        if (!at || !taken.empty()) continue;
        used_[*at] = true;
        part.flags.emplace_back(word);
        taken = word;
    }
    return taken;
}

void PartReader::feed(Part& part) {
    const auto at = find_word("feed");
    if (!at) return;
    used_[*at] = true;
    if (*at + 1 < line_.size() && (line_[*at + 1].text == "30" || line_[*at + 1].text == "15")) {
        part.feed = line_[*at + 1].text;
        used_[*at + 1] = true;
        return;
    }
    error(place_of(line_[*at]), "'feed' of '" + part.name + "' must be 30 (always live) or 15 (live with the key on)",
          "feed 30");
    if (*at + 1 < line_.size()) used_[*at + 1] = true;
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

std::optional<Parameter> PartReader::take_number(std::string_view name, Unit unit) {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i]) continue;
        const auto measure = measure_of(line_[i]);
        if (!measure || measure->unit != unit) return std::nullopt;
        return read_number(i, name, unit);
    }
    return std::nullopt;
}

void PartReader::finish(Part& part) {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i]) continue;
        const Word& word = line_[i];
        if (word.text == "@") continue;
        if (word.quoted) {
            part.print += (part.print.empty() ? "" : " ") + word.text;
            continue;
        }
        if (measure_of(word)) {
            error(place_of(word), "'" + word.text + "' is not understood in the line of '" + part.name + "', a " +
                                      std::string(part.kind->word),
                  "for example " + std::string(part.kind->example));
            continue;
        }
        const std::string near = nearest(word.text, known_);
        if (!near.empty() && word.text.size() > 3) {
            error(place_of(word), "'" + word.text + "' is not known in the line of a " + std::string(part.kind->word),
                  "did you mean '" + near + "'?");
            continue;
        }
        part.print += (part.print.empty() ? "" : " ") + word.text;
    }
}

}  // namespace voltfall
