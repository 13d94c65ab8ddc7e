#include "netlists/files/circuit_sections.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "netlists/parts/kind_names.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// The kind that the line's first word names, or null (reported).
const Kind* read_kind(Problems& problems, WordReader& words, const TomlEntry& entry) {
    if (words.at_end()) {
        problems.error(ProblemCode::unknown_kind, words.place(), fmt::format("'{}' has no kind", entry.key),
                       fmt::format("for example {} = \"fuse 40A maxi, feed 30\"", entry.key));
        return nullptr;
    }
    const SourcePlace place = words.place();
    std::string word = words.take().text;
    if (word.size() > 1 && word.back() == ':') word.pop_back();
    if (const Kind* kind = find_kind(word)) return kind;
    std::string suggestion = did_you_mean(word, kind_words());
    words.rewind(0);
    if (const std::string advice = kind_advice(words.rest()); !advice.empty()) suggestion = advice;
    if (suggestion.empty()) suggestion = fmt::format("kinds are {}", fmt::join(kind_words(), ", "));
    problems.error(ProblemCode::unknown_kind, place, fmt::format("'{}' is no kind of part", word),
                   std::move(suggestion));
    return nullptr;
}

/// Reads the line into the part; false when its kind is not known.
bool read_line(const Circuit& circuit, const TypedText& text, const TomlEntry& entry, Part& part, Problems& problems) {
    WordReader words(text, problems);
    part.kind = read_kind(problems, words, entry);
    if (!part.kind) return false;
    PartReader reader(words, circuit, problems);
    part.kind->read(reader, part);
    reader.finish(part);
    return true;
}

void read_part(CircuitDraft& draft, const TomlEntry& entry) {
    if (!draft.check_name(entry, "part")) return draft.lose(entry.key);
    if (const PartId first = draft.part_named(entry.key); first.valid()) {
        draft.problems.error(ProblemCode::written_twice, entry.key_place,
                             fmt::format("part '{}' stands twice; the first is in line {}", entry.key,
                                         draft.circuit.part(first).source.line),
                             "give one of them another name");
        return;
    }
    const auto text = draft.text_of(entry, "fuse 40A maxi, feed 30");
    if (!text) return draft.lose(entry.key);
    Part part;
    part.name = entry.key;
    part.source = entry.key_place;
    Problems problems;
    const bool known = read_line(draft.circuit, *text, entry, part, problems);
    draft.problems.add_all(problems);
    if (!known) return draft.lose(entry.key);

    const PartId id{static_cast<std::uint32_t>(draft.circuit.parts.size())};
    if (problems.has_errors()) draft.doubtful.insert(id);
    draft.parts[lower(part.name)] = id;
    draft.circuit.parts.push_back(std::move(part));
}

void read_plug(CircuitDraft& draft, const TomlEntry& entry) {
    const auto text = draft.text_of(entry, "C303");
    if (!text || trimmed(std::string_view(text->text)).empty()) draft.plug_unnamed = true;
    if (!text) return;
    const PartId part = draft.part_named(entry.key);
    if (!part.valid()) {
        if (draft.is_lost(entry.key)) return draft.lose(text->text);
        draft.note_unknown(entry.key, entry.key_place);
        return draft.lose(text->text);
    }
    Part& plugged = draft.circuit.parts[part.index];
    TomlEntry plug_name{text->text, text->place, entry.value};
    if (!draft.check_name(plug_name, "plug")) return draft.lose(text->text);
    const std::string& plug = text->text;
    if (only_joins(plugged)) {
        draft.problems.error(ProblemCode::does_not_fit, entry.key_place,
                             fmt::format("'{}' is a {}, which has no plug", entry.key, plugged.kind->word),
                             "name a part such as a motor or switch");
        draft.lose(plug);
    } else if (const PartId other = draft.part_named(plug); other.valid()) {
        draft.problems.error(
            ProblemCode::name_taken, text->place,
            fmt::format("'{}' is a part already; the plug at '{}' needs no line in [parts]", plug, entry.key),
            fmt::format("delete the line of '{}' in [parts], or name the plug otherwise", plug));
    } else if (const PartId taken = draft.plug_named(plug); taken.valid()) {
        draft.problems.error(ProblemCode::name_taken, text->place,
                             fmt::format("plug '{}' is at '{}' already", plug, draft.circuit.part(taken).name),
                             "give each part a plug of its own");
    } else {
        plugged.plug = plug;
        draft.plugs[lower(plug)] = part;
    }
}

}  // namespace

void read_parts(CircuitDraft& draft, const TomlSection& section) {
    for (const std::string& name : section.lost) draft.lose(name);
    draft.circuit.parts.reserve(section.entries.size());
    for (const TomlEntry& entry : section.entries) read_part(draft, entry);
}

void read_plugs(CircuitDraft& draft, const TomlSection& section) {
    if (!section.lost.empty()) draft.plug_unnamed = true;
    for (const TomlEntry& entry : section.entries) read_plug(draft, entry);
}

}  // namespace voltfall
