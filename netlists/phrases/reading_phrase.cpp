#include "netlists/phrases/reading_phrase.hpp"

#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/parses.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// A state with nothing measured is kept where it tells of a new part.
std::optional<Measurement> read_behind(WordReader& words, const StatePhrase& state, const Circuit& circuit) {
    if (words.at_end() && !state.fitted_new.empty()) return NoMeasurement{};
    const bool in_hand = !state.unplugged.empty() || !state.pulled.empty();
    return read_measurement(words, circuit, in_hand ? MeasuredAt::in_hand : MeasuredAt::on_vehicle);
}

}  // namespace

std::optional<Reading> read_reading_phrase(const TypedText& phrase, const std::string& id, const Circuit& circuit,
                                           Problems& problems) {
    const MeterText meter = without_meter_words(phrase.text);
    if (meter.alternating) {
        problems.error(ProblemCode::wrong_unit, phrase.place, "alternating volts or amperes are not weighed: the circuit is one of direct current",
                       "switch the meter to DC and read again");
        return std::nullopt;
    }
    const TrimmedPhrase trimmed = trim_phrase({meter.phrase, phrase.place});
    if (without_note(trimmed.phrase).empty()) {
        problems.error(ProblemCode::empty_phrase, phrase.place, "the reading is empty",
                       "for example hi  M1.1 to B1-  10.3V");
        return std::nullopt;
    }
    const WhatReader<Measurement> read = [&](WordReader& words, const StatePhrase& state) {
        return read_behind(words, state, circuit);
    };
    auto found = only_parse(trimmed.phrase, circuit, read, "reading", problems);
    if (!found) return std::nullopt;
    Reading reading;
    reading.id = id;
    reading.state = std::move(found->state);
    reading.measurement = std::move(*found->what);
    reading.doubted = trimmed.doubted;
    reading.text = without_note(phrase);
    reading.note = trimmed.note;
    reading.place = phrase.place;
    return reading;
}

}  // namespace voltfall
