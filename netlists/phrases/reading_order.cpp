#include "netlists/phrases/reading_order.hpp"

#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A state with nothing measured is kept where it tells of a new part.
std::optional<Measurement> read_behind(WordReader& words, const StatePhrase& state, const Circuit& circuit) {
    if (words.at_end() && (!state.fitted_new.empty() || !state.new_plugs.empty())) return NoMeasurement{};
    const bool in_hand = !state.unplugged.empty() || !state.pulled.empty();
    return read_measurement(words, circuit, in_hand ? MeasuredAt::in_hand : MeasuredAt::on_vehicle);
}

/// Positions in the order of the switch: `hi, mh` is `mh, hi`.
StatePhrase in_order(StatePhrase state) {
    for (ControlSetting& setting : state.settings) std::sort(setting.positions.begin(), setting.positions.end());
    return state;
}

bool mean_the_same(const ReadingParse& one, const ReadingParse& other) {
    return in_order(one.state) == in_order(other.state) && same_measurement(*one.what, *other.what);
}

}  // namespace

std::optional<ReadingParse> parse_reading(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    const WhatReader<Measurement> read = [&](WordReader& words, const StatePhrase& state) {
        return read_behind(words, state, circuit);
    };
    return only_parse(phrase, circuit, read, "reading", problems);
}

std::vector<std::string> meanings_of(std::span<const TypedText> orders, const Circuit& circuit) {
    std::vector<ReadingParse> meant;
    std::vector<std::string> written;
    for (const TypedText& order : orders) {
        Problems own;
        auto read = parse_reading(order, circuit, own);
        if (!read || std::holds_alternative<NoMeasurement>(*read->what)) continue;
        const auto same = [&](const ReadingParse& other) { return mean_the_same(*read, other); };
        if (std::any_of(meant.begin(), meant.end(), same)) continue;
        meant.push_back(std::move(*read));
        written.push_back(order.text);
    }
    return written;
}

std::vector<std::string> meanings_in_other_orders(const TypedText& phrase, const Circuit& circuit) {
    return meanings_of(other_orders(phrase, circuit), circuit);
}

std::optional<ReadingPiece> reading_piece(const TypedText& text, const Circuit& circuit) {
    const auto as_reading = [&](const std::string& typed) -> std::optional<ReadingPiece> {
        Problems own;
        const auto read = parse_reading({typed, text.place}, circuit, own);
        if (!read || std::holds_alternative<NoMeasurement>(*read->what)) return std::nullopt;
        const bool number = std::holds_alternative<VoltsReading>(*read->what) ||
                            std::holds_alternative<AmpsReading>(*read->what) ||
                            std::holds_alternative<OhmsReading>(*read->what);
        return ReadingPiece{typed, read->state, number};
    };
    if (auto half = as_reading(text.text)) return half;
    const auto meanings = meanings_in_other_orders(text, circuit);
    return meanings.size() == 1 ? as_reading(meanings.front()) : std::nullopt;
}

bool names_something(std::span<const Word> words, const Circuit& circuit) {
    return std::any_of(words.begin(), words.end(), [&](const Word& word) {
        bool exact = false;
        const auto equals = word.text.find('=');
        const bool volts = word.measure && word.measure->unit != Unit::none;
        if (!word.quoted && (volts || same_word(word.text, "clicks"))) return true;
        if (equals != std::string::npos) return !joints_named(circuit, word.text.substr(0, equals)).empty();
        return !word.quoted &&
               (find_place(circuit, word.text) || !position_meanings(circuit, word.text, exact).empty() ||
                !joints_named(circuit, word.text).empty() || is_load_word(circuit, word.text) ||
                find_kind(lower(word.text)));
    });
}

std::optional<std::string> with_only_part_named(const TypedText& phrase, const Circuit& circuit) {
    for (const Word& word : cut_words(phrase.text)) {
        const Kind* kind = word.quoted || is_load_word(circuit, word.text) ? nullptr : find_kind(lower(word.text));
        if (!kind) continue;
        const auto of_kind = [&](const Part& part) { return part.kind == kind; };
        const auto part = std::find_if(circuit.parts.begin(), circuit.parts.end(), of_kind);
        if (part == circuit.parts.end() ||
            std::find_if(std::next(part), circuit.parts.end(), of_kind) != circuit.parts.end())
            continue;
        std::string line = phrase.text;
        line.replace(static_cast<std::size_t>(word.offset), static_cast<std::size_t>(word.length), part->name);
        if (auto piece = reading_piece({line, phrase.place}, circuit)) return std::move(piece->text);
    }
    return std::nullopt;
}

std::optional<std::string> with_rest_as_note(const TypedText& phrase, const Circuit& circuit) {
    static constexpr std::string_view leading[]{"on",     "by",    "at",    "near", "against",
                                                "behind", "under", "above", "where"};
    const std::vector<Word> words = cut_words(phrase.text);
    for (std::size_t at = 2; at + 1 < words.size(); ++at) {
        const auto rest = std::span(words).subspan(at);
        if (!words[at].is_among(leading) || names_something(rest, circuit)) continue;
        const auto end = static_cast<std::size_t>(words[at].offset);
        const auto seen = reading_piece({phrase.text.substr(0, end), phrase.place}, circuit);
        Problems own;
        const auto read = seen ? parse_reading({seen->text, phrase.place}, circuit, own) : std::nullopt;
        if (read && std::holds_alternative<LookReading>(*read->what))
            return seen->text + "  # " + phrase.text.substr(end);
    }
    return std::nullopt;
}

std::string in_reading_order(const std::string& line, const Circuit& circuit) {
    Problems problems;
    if (read_reading_phrase(TypedText::argument("reading", line), "", circuit, problems)) return line;
    const TrimmedPhrase trimmed = trim_phrase(TypedText::argument("reading", without_meter_words(line).phrase));
    const auto meanings = meanings_in_other_orders(trimmed.phrase, circuit);
    if (meanings.empty()) {
        if (const auto named = with_only_part_named(trimmed.phrase, circuit))
            return *named + (trimmed.doubted ? " ?" : "") + (trimmed.note.empty() ? "" : "  # " + trimmed.note);
    }
    if (meanings.empty() && trimmed.note.empty() && !trimmed.doubted)
        return with_rest_as_note(trimmed.phrase, circuit).value_or(line);
    if (meanings.size() != 1) return line;
    return meanings.front() + (trimmed.doubted ? " ?" : "") + (trimmed.note.empty() ? "" : "  # " + trimmed.note);
}

}  // namespace voltfall
