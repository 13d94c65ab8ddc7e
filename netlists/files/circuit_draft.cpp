#include "netlists/files/circuit_draft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A name that is wired more than once is no slip of the hand but a part without its line, where others of its sort
/// have one: `SP2` beside `SP1`.
std::string advice_for(const Circuit& circuit, const CircuitDraft::Unknown& one,
                       const std::vector<std::string>& known) {
    const std::string near = did_you_mean(one.name, known);
    if (one.more == 0 && !near.empty()) return near;
    const std::string else_known = near.empty() ? did_you_mean_or_known(one.name, known) : near;
    const auto stem = [](std::string_view name) { return name.substr(0, name.find_first_of("0123456789")); };
    const std::string_view own = stem(one.name);
    if (own.empty() || own.size() == one.name.size()) return else_known;
    for (const Part& part : circuit.parts) {
        if (!only_joins(part) || !same_word(stem(part.name), own)) continue;
        const std::string line = fmt::format("add its line to [parts]: {} = \"{}\"", one.name, part.kind->word);
        return near.empty() ? line : line + "; or " + near;
    }
    // Letters of common practice in wiring diagrams.
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 8> usual{{{"SP", "splice"},
                                                                                         {"C", "connector"},
                                                                                         {"X", "connector"},
                                                                                         {"G", "ground"},
                                                                                         {"F", "fuse"},
                                                                                         {"K", "relay"},
                                                                                         {"M", "motor"},
                                                                                         {"D", "diode"}}};
    const auto sort =
        std::find_if(usual.begin(), usual.end(), [&](const auto& row) { return same_word(row.first, own); });
    const bool splice = same_word(own, "SP");
    if (sort == usual.end() || (!splice && !near.empty())) return else_known;
    if (splice) return fmt::format("a splice needs its line in [parts]: {} = \"splice\"", one.name);
    const Kind* kind = find_kind(sort->second);
    const std::string_view line = kind && kind->joining == Joining::nothing ? kind->example : sort->second;
    return fmt::format("every part has its line: add to [parts], for example, {} = \"{}\"", one.name, line);
}

/// The look-alike or control in a name, or null.
const Character* hidden_in(const std::vector<Character>& characters) {
    const auto found = std::find_if(characters.begin(), characters.end(), [](const Character& c) {
        return c.valid && (look_alike(c.code) || is_control(c.code));
    });
    return found == characters.end() ? nullptr : &*found;
}

/// `60:1`, a piece of a chain that is written as a line of its own.
bool is_piece_name(std::string_view name) {
    const auto colon = name.find(':');
    if (colon == std::string_view::npos || colon == 0 || colon + 1 == name.size()) return false;
    const auto digits = name.substr(colon + 1);
    return is_name(name.substr(0, colon)) &&
           std::all_of(digits.begin(), digits.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// The name without the characters that cannot stand in one, `filler` in the place of each that can be seen.
std::string mended_name(std::string_view name, std::string_view filler) {
    std::string mended;
    for (const Character& c : characters_of(name)) {
        if (is_name(c.bytes)) {
            mended += c.bytes;
        } else if (!look_alike(c.code) && !is_control(c.code)) {
            mended += filler;
        }
    }
    return mended;
}

PartId found_in(const std::map<std::string, PartId>& names, std::string_view name) {
    const auto found = names.find(lower(name));
    return found == names.end() ? PartId{} : found->second;
}

}  // namespace

PartId CircuitDraft::part_named(std::string_view name) const {
    return found_in(parts, name);
}
PartId CircuitDraft::plug_named(std::string_view name) const {
    return found_in(plugs, name);
}
bool CircuitDraft::is_lost(std::string_view name) const {
    return lost.count(lower(name)) > 0;
}
bool CircuitDraft::is_made_like_a_plug(std::string_view name) const {
    const auto stem = [](std::string_view text) { return lower(text.substr(0, text.find_first_of("0123456789"))); };
    const auto alike = [&](std::string_view other) { return stem(other) == stem(name); };
    return std::any_of(plugs.begin(), plugs.end(), [&](const auto& plug) { return alike(plug.first); }) ||
           std::any_of(circuit.parts.begin(), circuit.parts.end(),
                       [&](const Part& part) { return joins(part, Joining::cavities) && alike(part.name); });
}
void CircuitDraft::lose(std::string_view name) {
    lost.insert(lower(name));
}

void CircuitDraft::note_unknown(std::string_view name, const SourcePlace& where) {
    const auto found =
        std::find_if(unknown.begin(), unknown.end(), [&](const Unknown& u) { return same_word(u.name, name); });
    if (found == unknown.end()) {
        unknown.push_back({std::string(name), where, 0});
    } else {
        ++found->more;
    }
}

void CircuitDraft::report_unknown() {
    const std::vector<std::string> known = names();
    std::size_t told = 0;
    for (const Unknown& one : unknown) {
        // What is only counted needs no suggestion.
        const bool counted_only = told++ >= Problems::most_kept;
        const std::string more =
            one.more == 0 ? "" : fmt::format(", here and {} more time{}", one.more, one.more == 1 ? "" : "s");
        problems.error(ProblemCode::unknown_part, one.place, fmt::format("no part is called '{}'{}", one.name, more),
                       counted_only ? "" : advice_for(circuit, one, known));
        lose(one.name);
    }
    unknown.clear();
}

std::vector<std::string> CircuitDraft::names() const {
    std::vector<std::string> all;
    for (const Part& part : circuit.parts) {
        all.push_back(part.name);
        if (!part.plug.empty()) all.push_back(part.plug);
    }
    return all;
}

std::string value_words(const TomlEntry& entry) {
    struct Words {
        std::string operator()(const std::string& text) const { return "the text '" + text + "'"; }
        std::string operator()(long long number) const { return fmt::format("the number {}", number); }
        std::string operator()(double number) const {
            const bool whole = number == std::floor(number) && std::abs(number) < 1e6;
            return fmt::format("the number {}", whole ? fmt::format("{:.1f}", number) : fmt::format("{}", number));
        }
        std::string operator()(bool yes) const { return yes ? "true" : "false"; }
        std::string operator()(const TextList&) const { return "a list"; }
    };
    return std::visit(Words{}, entry.value.value);
}

std::optional<TypedText> CircuitDraft::text_of(const TomlEntry& entry, std::string_view example) {
    if (entry.is_text()) return entry.text();
    problems.error(ProblemCode::wrong_type, entry.value.place,
                   fmt::format("'{}' is {}; expected a text in double quotes", entry.key, value_words(entry)),
                   fmt::format("for example {} = \"{}\"", entry.key, example));
    return std::nullopt;
}

bool CircuitDraft::check_name(const TomlEntry& entry, std::string_view what) {
    const bool wire = what == "wire";
    const std::string& name = entry.key;
    if (!wire && (name == "30" || name == "15" || name == "31")) {
        problems.error(ProblemCode::bad_name, entry.key_place,
                       fmt::format("a {} cannot be called '{}', a word of the supply", what, name),
                       fmt::format("for example X{}", name));
        return false;
    }
    const int length = character_count(name);
    if (length > longest_name) {
        problems.error(ProblemCode::too_long, entry.key_place,
                       fmt::format("the name '{}' has {} characters; at most {} are read", name, length, longest_name),
                       "name it as the diagram does");
        return false;
    }
    if (is_name(name)) return true;
    if (wire && is_piece_name(name)) return true;
    // Used elsewhere it is meant without what cannot stand in it.
    lose(mended_name(name, ""));
    if (const auto dot = name.find('.'); dot != std::string::npos) lose(name.substr(0, dot));
    const auto characters = characters_of(name);
    if (const Character* hidden = hidden_in(characters)) {
        const LookAlike* alike = look_alike(hidden->code);
        problems.error(
            ProblemCode::strange_character, entry.key_place,
            fmt::format("the name '{}' holds the character {}{}", mended_name(name, "_"), code_point_name(hidden->code),
                        alike ? fmt::format(" ({})", alike->name) : ", which cannot be seen"),
            fmt::format("write {}", mended_name(name, "_")));
        return false;
    }
    problems.error(
        ProblemCode::bad_name, entry.key_place,
        fmt::format("'{}' is no name of a {}: letters, digits, _ - / only", name, what),
        name.empty() ? "name it as the diagram does" : fmt::format("for example {}", mended_name(name, "_")));
    return false;
}

std::optional<std::string> CircuitDraft::place_named(std::string_view typed, const SourcePlace& where) {
    if (auto place = find_place(circuit, typed)) return place;
    if (is_lost(typed)) return std::nullopt;
    const std::string_view owner = read_place(typed).owner;
    // Without joints a cavity cannot be looked up: its connector or part must do.
    const bool known_owner = part_named(owner).valid() || plug_named(owner).valid() || is_lost(owner);
    if (!laid && owner.size() < typed.size() && known_owner) return std::nullopt;
    // `12:2` of a chain whose line has a mistake.
    if (is_piece_name(typed) && is_lost(typed.substr(0, typed.find(':')))) return std::nullopt;
    if (plug_unnamed && is_made_like_a_plug(typed)) return std::nullopt;
    problems.error(ProblemCode::unknown_place, where, fmt::format("no part, plug or wire is called '{}'", typed),
                   did_you_mean_or_known(typed, place_names(circuit)));
    lose(typed);  // one problem a name
    return std::nullopt;
}

}  // namespace voltfall
