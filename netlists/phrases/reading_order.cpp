#include "netlists/phrases/reading_order.hpp"

#include <algorithm>

#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A state with nothing measured is kept where it tells of a new part.
std::optional<Measurement> read_behind(WordReader& words, const StatePhrase& state, const Circuit& circuit) {
    if (words.at_end() && !state.fitted_new.empty()) return NoMeasurement{};
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

/// Does the problem say only that a word does not belong there, and not what is wrong with what was meant?
bool says_little(ProblemCode code) {
    return code == ProblemCode::unknown_place || code == ProblemCode::extra_word || code == ProblemCode::unknown_word ||
           code == ProblemCode::missing_word || code == ProblemCode::unknown_part || code == ProblemCode::unknown_wire;
}

/// Volts, amperes or ohms: a story of other words has no better order.
bool shows_a_number(const TypedText& phrase) {
    Problems unused;
    const auto words = cut_words(phrase, unused);
    return std::any_of(words.begin(), words.end(), [](const Word& word) {
        if (same_word(word.text, "OL")) return true;
        return word.measure && (word.measure->unit == Unit::volt || word.measure->unit == Unit::ampere ||
                                word.measure->unit == Unit::ohm);
    });
}

const Problem* first_error(const Problems& problems) {
    const auto& list = problems.list();
    const auto found =
        std::find_if(list.begin(), list.end(), [](const Problem& p) { return p.severity == Severity::error; });
    return found == list.end() ? nullptr : &*found;
}

/// A line that is several readings, or may be one of several: says which. False where it is neither.
bool add_spoken(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    const auto spoken = spoken_in(phrase, circuit);
    if (!spoken || spoken->as == SpokenAs::reading) return false;
    const bool each = spoken->as == SpokenAs::each;
    std::string lines;
    for (const std::string& line : spoken->lines) lines += (lines.empty() ? "" : each ? "; " : ", or ") + line;
    problems.error(ProblemCode::two_meanings, phrase.place,
                   each ? "that is more than one reading" : "that may be one of several readings",
                   each ? "write each on a line of its own: " + lines : "write " + lines);
    return true;
}

}  // namespace

std::optional<ReadingParse> parse_reading(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    const WhatReader<Measurement> read = [&](WordReader& words, const StatePhrase& state) {
        return read_behind(words, state, circuit);
    };
    return only_parse(phrase, circuit, read, "reading", problems);
}

std::vector<std::string> meanings_in_other_orders(const TypedText& phrase, const Circuit& circuit) {
    std::vector<ReadingParse> meant;
    std::vector<std::string> written;
    for (const TypedText& order : other_orders(phrase, circuit)) {
        Problems own;
        auto read = parse_reading(order, circuit, own);
        if (!read || own.has_errors() || std::holds_alternative<NoMeasurement>(*read->what)) continue;
        const auto same = [&](const ReadingParse& other) { return mean_the_same(*read, other); };
        if (std::any_of(meant.begin(), meant.end(), same)) continue;
        meant.push_back(std::move(*read));
        written.push_back(order.text);
    }
    return written;
}

std::string in_reading_order(const std::string& line, const Circuit& circuit) {
    Problems problems;
    if (read_reading_phrase(TypedText::argument("reading", line), "", circuit, problems)) return line;
    const TrimmedPhrase trimmed = trim_phrase(TypedText::argument("reading", without_meter_words(line).phrase));
    const auto meanings = meanings_in_other_orders(trimmed.phrase, circuit);
    if (meanings.size() != 1) return line;
    return meanings.front() + (trimmed.doubted ? " ?" : "") + (trimmed.note.empty() ? "" : "  # " + trimmed.note);
}

std::vector<std::string> readings_in_line(const std::string& line, const Circuit& circuit) {
    const std::string one = in_reading_order(line, circuit);
    Problems problems;
    if (read_reading_phrase(TypedText::argument("reading", one), "", circuit, problems)) return {one};
    const TrimmedPhrase trimmed = trim_phrase(TypedText::argument("reading", line));
    const auto spoken = spoken_in(trimmed.phrase, circuit);
    std::vector<std::string> lines;
    if (spoken && spoken->as == SpokenAs::each) {
        lines = spoken->lines;
    } else if (const auto test = load_in_all_positions(circuit); test && !spoken) {
        lines = readings_of_positions(circuit, *test, trimmed.phrase.text);
    }
    if (lines.empty()) return {one};
    for (std::string& each : lines) each += trimmed.doubted ? " ?" : "";
    return lines;
}

void add_clearest(const TypedText& phrase, const Circuit& circuit, const Problems& as_it_stands, Problems& problems) {
    const Problem* first = first_error(as_it_stands);
    const auto meanings = first ? meanings_in_other_orders(phrase, circuit) : std::vector<std::string>{};
    if (first && meanings.empty() && add_spoken(phrase, circuit, problems)) return;
    if (!meanings.empty()) {
        std::string advice = "write " + meanings.front();
        if (meanings.size() > 1) advice += ", or " + meanings[1];
        return problems.error(first->code, first->place, first->message, std::move(advice));
    }
    if (first && says_little(first->code)) {
        for (const TypedText& order : other_orders(phrase, circuit)) {
            if (!shows_a_number(order)) continue;
            Problems own;
            parse_reading(order, circuit, own);
            const Problem* clearer = first_error(own);
            // A value by itself wants its place, whatever was said around it.
            const bool alone = order.text.find(' ') == std::string::npos;
            if (!clearer || (says_little(clearer->code) && !alone)) continue;
            return problems.error(clearer->code, phrase.place, clearer->message, clearer->suggestion);
        }
    }
    problems.add_all(as_it_stands);
}

}  // namespace voltfall
