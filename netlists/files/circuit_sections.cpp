#include "netlists/files/circuit_sections.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "netlists/files/section_names.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/tables/heat_rows.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/plain_text.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

/// The places that a key stands for: one, or the pieces of a chain.
std::vector<std::string> places_of(CircuitDraft& draft, std::string_view typed, const SourcePlace& where) {
    const auto place = draft.place_named(typed, where);
    if (!place) return {};
    std::vector<std::string> pieces;
    for (const Wire& wire : draft.circuit.wires) {
        if (same_word(wire.number, *place) && wire.number != wire.name) pieces.push_back(wire.name);
    }
    return pieces.empty() ? std::vector<std::string>{*place} : pieces;
}

namespace {

constexpr double seconds_of_a_minute = 60;

void read_controls(CircuitDraft& draft, const TomlSection& section) {
    for (const TomlEntry& entry : section.entries) {
        const auto text = draft.text_of(entry, "blower");
        const PartId id = draft.part_named(entry.key);
        if (!id.valid()) {
            if (draft.is_lost(entry.key)) continue;
            draft.problems.error(ProblemCode::unknown_part, entry.key_place,
                                 fmt::format("no part is called '{}'", entry.key),
                                 did_you_mean(entry.key, draft.names()));
            continue;
        }
        if (!text || !reads_plain(*text, draft.problems)) continue;
        if (trimmed(std::string_view(text->text)).empty()) {
            draft.problems.error(ProblemCode::empty_phrase, text->place,
                                 fmt::format("the word for '{}' is empty", entry.key),
                                 fmt::format("for example {} = \"blower\"", entry.key));
            continue;
        }
        const Part& part = draft.circuit.part(id);
        if (part.positions.empty() && !draft.doubtful.count(id)) {
            draft.problems.error(ProblemCode::does_not_fit, entry.key_place,
                                 fmt::format("'{}' is a {}, which nobody sets", part.name, part.kind->word),
                                 "name a switch");
            continue;
        }
        const auto twice = std::find_if(draft.circuit.controls.begin(), draft.circuit.controls.end(),
                                        [&](const Control& c) { return same_word(c.word, text->text); });
        if (twice != draft.circuit.controls.end()) {
            draft.problems.error(ProblemCode::written_twice, text->place,
                                 fmt::format("two controls are called '{}'", text->text),
                                 fmt::format("call this one {}", part.name));
            continue;
        }
        draft.circuit.controls.push_back({id, text->text.empty() ? part.name : text->text});
    }
}

bool is_position(const Circuit& circuit, std::string_view name) {
    return std::any_of(circuit.parts.begin(), circuit.parts.end(),
                       [&](const Part& part) { return part.position_named(name).has_value(); });
}

/// `hi.amps`, `feed`, `ground`, or a place.
bool check_limit_key(CircuitDraft& draft, const TomlEntry& entry) {
    static const std::vector<std::string> of_supply{"feed", "ground"};
    if (std::find(of_supply.begin(), of_supply.end(), entry.key) != of_supply.end()) return true;
    static constexpr std::array<std::string_view, 3> figures{"amps", "volts", "rpm"};
    const auto dot = entry.key.rfind('.');
    const std::string_view key = entry.key;
    const bool figure =
        dot != std::string::npos && std::find(figures.begin(), figures.end(), key.substr(dot + 1)) != figures.end();
    if (dot != std::string::npos && !figure && is_position(draft.circuit, key.substr(0, dot))) {
        const std::vector<std::string> known(figures.begin(), figures.end());
        draft.problems.error(ProblemCode::unknown_key, entry.key_place,
                             fmt::format("'{}' is no figure of a position", key.substr(dot + 1)),
                             did_you_mean_or_known(key.substr(dot + 1), known));
        return false;
    }
    const std::string meant = figure || find_place(draft.circuit, key) ? "" : did_you_mean(key, of_supply);
    if (!meant.empty()) {
        draft.problems.error(ProblemCode::unknown_key, entry.key_place,
                             fmt::format("no part, plug or wire is called '{}'", key), meant);
        return false;
    }
    if (!figure) return draft.place_named(key, entry.key_place).has_value();
    const std::string_view position = key.substr(0, dot);
    std::vector<std::string> known;
    for (const Part& part : draft.circuit.parts) {
        for (const Position& p : part.positions) known.push_back(p.name);
        if (part.position_named(position)) return true;
    }
    if (!draft.doubtful.empty() || !draft.lost.empty()) return false;
    draft.problems.error(ProblemCode::unknown_position, entry.key_place,
                         fmt::format("no switch has a position '{}'", position),
                         did_you_mean_or_known(position, known));
    return false;
}

void read_limits(CircuitDraft& draft, const TomlSection& section) {
    for (const TomlEntry& entry : section.entries) {
        const auto text = draft.text_of(entry, limit_example(entry.key));
        Limit limit;
        limit.key = entry.key;
        limit.source = entry.key_place;
        if (check_limit_key(draft, entry) && text && read_limit(draft, *text, limit))
            draft.circuit.limits.push_back(limit);
    }
}

std::optional<OutOfBounds> out_of_reach(double minutes, std::string_view typed) {
    const FigureBounds& bounds = figure_bounds("place", "time to reach it", Unit::second);
    return outside_bounds(bounds, minutes * seconds_of_a_minute, typed, "C101 = 25");
}

/// Plain minutes, or a text such as `25min`.
std::optional<double> read_minutes(CircuitDraft& draft, const TomlEntry& entry) {
    std::optional<double> minutes;
    if (const auto* whole = std::get_if<long long>(&entry.value.value)) minutes = static_cast<double>(*whole);
    if (const auto* real = std::get_if<double>(&entry.value.value)) minutes = *real;
    if (entry.is_text()) {
        if (!reads_plain(entry.text(), draft.problems)) return std::nullopt;
        const auto measure = parse_measure(entry.text().text);
        if (measure && measure->unit == Unit::second) minutes = measure->value / seconds_of_a_minute;
        if (measure && measure->unit == Unit::none) minutes = measure->value;
    }
    if (minutes) {
        const auto wrong = out_of_reach(*minutes, entry.is_text() ? entry.text().text : entry.value.typed);
        if (!wrong) return minutes;
        draft.problems.error(ProblemCode::figure_out_of_range, entry.value.place, wrong->message, wrong->suggestion);
        return std::nullopt;
    }
    if (!entry.value.misread)
        draft.problems.error(ProblemCode::wrong_type, entry.value.place,
                             fmt::format("'{}' is {}; expected minutes", entry.key, value_words(entry)),
                             fmt::format("for example {} = 25", entry.key));
    return std::nullopt;
}

void read_reach(CircuitDraft& draft, const TomlSection& section) {
    for (const TomlEntry& entry : section.entries) {
        const auto minutes = read_minutes(draft, entry);
        for (const std::string& place : places_of(draft, entry.key, entry.key_place)) {
            if (minutes) draft.circuit.reach[place] = *minutes;
        }
    }
}

void read_heat(CircuitDraft& draft, const TomlSection& section) {
    for (const TomlEntry& entry : section.entries) {
        const auto row = std::find_if(heat_rows().begin(), heat_rows().end(),
                                      [&](const HeatRow& known) { return same_word(known.key, entry.key); });
        if (row == heat_rows().end()) {
            std::vector<std::string> keys;
            for (const HeatRow& known : heat_rows()) keys.emplace_back(known.key);
            draft.problems.error(ProblemCode::unknown_key, entry.key_place,
                                 fmt::format("[heat] has no figure '{}'", entry.key), did_you_mean(entry.key, keys));
            continue;
        }
        const auto text = draft.text_of(entry, write_measure(default_value(row->row), row->unit));
        if (!text || !reads_plain(*text, draft.problems)) continue;
        const auto measure = parse_measure(text->text);
        const bool in_range = measure && measure->value >= row->low && measure->value <= row->high;
        if (measure && measure->unit == row->unit && in_range) {
            draft.circuit.heat[std::string(row->row)] = measure->value;
            continue;
        }
        draft.problems.error(
            ProblemCode::figure_out_of_range, text->place,
            fmt::format("'{}' is {}; expected {} to {}: {}", entry.key, value_words(entry),
                        write_measure(row->low, row->unit), write_measure(row->high, row->unit), row->what),
            fmt::format("for example {} = \"{}\"", row->key, write_measure(default_value(row->row), row->unit)));
    }
}

/// Names are compared without case: `F7` and `f7` are one key. (The same letters twice are told where they are read.)
void report_twice(CircuitDraft& draft, const TomlSection& section) {
    std::map<std::string, int> lines;
    for (const TomlEntry& entry : section.entries) {
        const auto [first, fresh] = lines.emplace(lower(entry.key), entry.key_place.line);
        if (!fresh)
            draft.problems.error(ProblemCode::written_twice, entry.key_place,
                                 fmt::format("'{}' stands twice; the first is in line {}", entry.key, first->second),
                                 "take one of them out");
    }
}

struct OptionalSection {
    FileSection section;
    void (*read)(CircuitDraft& draft, const TomlSection& section);
};
constexpr std::array optional_sections{
    OptionalSection{FileSection::controls, read_controls}, OptionalSection{FileSection::limits, read_limits},
    OptionalSection{FileSection::reach, read_reach},       OptionalSection{FileSection::strip, read_strips},
    OptionalSection{FileSection::care, read_care},         OptionalSection{FileSection::together, read_together},
    OptionalSection{FileSection::closed, read_closed},     OptionalSection{FileSection::heat, read_heat},
};

/// Does [closed] of `place` keep a probe from this joint?
bool is_at(const Circuit& circuit, JointId id, const std::string& place) {
    const Joint& joint = circuit.joint(id);
    if (same_word(joint.place, place) || same_word(joint.name, place)) return true;
    if (same_word(write_place(read_place(joint.name).without_half()), place)) return true;
    const PartId part = circuit.find_part(place);
    if (!part.valid()) return false;
    const auto holds = [&](const std::map<std::string, JointId>& joints) {
        return std::any_of(joints.begin(), joints.end(), [&](const auto& entry) { return entry.second == id; });
    };
    return holds(circuit.part(part).pins) || holds(circuit.part(part).harness);
}

}  // namespace

bool read_optional_section(CircuitDraft& draft, const TomlSection& section) {
    for (const OptionalSection& known : optional_sections) {
        if (section_word(known.section) != section.name) continue;
        report_twice(draft, section);
        known.read(draft, section);
        return true;
    }
    return false;
}

void default_controls(CircuitDraft& draft) {
    for (std::uint32_t i = 0; i < draft.circuit.parts.size(); ++i) {
        const Part& part = draft.circuit.parts[i];
        if (has_duty(part, Duty::control)) draft.circuit.controls.push_back({{i}, part.name});
    }
}

void close_electronics(Circuit& circuit) {
    for (const Part& part : circuit.parts) {
        if (part.electronics) circuit.closed.try_emplace(part.name, "electronic");
    }
}

void close_joints(Circuit& circuit) {
    for (const auto& [place, words] : circuit.closed) {
        for (std::uint32_t i = 0; i < circuit.joints.size(); ++i) {
            Joint& joint = circuit.joints[i];
            if (joint.access == Access::inside || !is_at(circuit, {i}, place)) continue;
            joint.access = Access::closed;
            joint.closed_reason = words;
        }
    }
}

}  // namespace voltfall
