#include "netlists/phrases/short_answer.hpp"

#include <variant>
#include <vector>

#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

/// The unit that a bare number is taken to have.
std::string_view unit_asked(const Circuit& circuit, const Tested& tested) {
    return std::visit(Overloaded{
                          [](const VoltsTest&) -> std::string_view { return "V"; },
                          [](const OhmsTest&) -> std::string_view { return "ohm"; },
                          [](const AmpsTest&) -> std::string_view { return "A"; },
                          [](const RatingTest&) -> std::string_view { return "A"; },
                          [](const HeatTest&) -> std::string_view { return "C"; },
                          [](const HotterTest&) -> std::string_view { return "C"; },
                          [&](const QuantityTest& t) -> std::string_view {
                              const auto contacts = contacts_moved(circuit, t);
                              const bool heat =
                                  !contacts.empty() && circuit.part(contacts.front()).moved_by->unit == Unit::celsius;
                              return heat ? "C" : "bar";
                          },
                          [](const auto&) -> std::string_view { return ""; },
                      },
                      tested);
}

/// The test's words as a reading has them: ohms are told by their unit alone.
std::string words_of(const Circuit& circuit, const Test& test) {
    if (const auto* ohms = std::get_if<OhmsTest>(&test.tested)) {
        const std::string state = write_state(circuit, test.state);
        return state + (state.empty() ? "" : "  ") + ohms->red.text + " to " + ohms->black.text;
    }
    return write_test(circuit, test);
}

std::optional<Reading> read(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    auto reading = read_reading_phrase(TypedText::argument("reading", phrase), "1", circuit, problems);
    if (reading && std::holds_alternative<NoMeasurement>(reading->measurement)) return std::nullopt;
    return reading;
}

/// Is it an answer to the test? `OL` is none where volts are asked: a meter shows it on a range of ohms, or on one that
/// is too small.
bool answers(const Circuit& circuit, const Test& test, const std::string& phrase) {
    const auto reading = read(circuit, phrase);
    const bool ohms_for_volts = reading && std::holds_alternative<VoltsTest>(test.tested) &&
                                std::holds_alternative<OhmsReading>(reading->measurement);
    // What was set for the test stays as it was asked: `hi K4.30 12.3` behind `blower` sets the blower anew.
    return reading && !ohms_for_volts && reading->state == test.state;
}

}  // namespace

std::optional<std::string> reading_of_answer(const Circuit& circuit, const Test& test, std::string_view line) {
    const std::string typed(line);
    // A whole reading is no answer to what was asked.
    if (read(circuit, typed)) return typed;
    const std::string asked = words_of(circuit, test) + "  " + typed;
    // What a meter shows or has logged is kept as its number.
    if (const MeterText meter = without_meter_words(asked); meter.phrase != asked && !meter.alternating)
        if (answers(circuit, test, meter.phrase)) return meter.phrase;
    for (const std::string& phrase : {asked + std::string(unit_asked(circuit, test.tested)), asked}) {
        if (answers(circuit, test, phrase)) return phrase;
    }
    const std::string whole = in_reading_order(typed, circuit);
    return read(circuit, whole) ? std::optional(whole) : std::nullopt;
}

std::vector<std::string> readings_of_answer(const Circuit& circuit, const Test& test, std::string_view line) {
    if (!read(circuit, std::string(line))) {
        if (auto each = readings_of_positions(circuit, test, line); !each.empty()) return each;
    }
    const auto one = reading_of_answer(circuit, test, line);
    if (!one) return {};
    const auto kept = is_bare_answer(line) ? read(circuit, *one) : std::nullopt;
    if (kept && !(kept->state == test.state)) return {};
    return {*one};
}

bool is_bare_answer(std::string_view line) {
    const std::string_view word = trimmed(line);
    return !word.empty() && word.find_first_of(" \t") == std::string_view::npos;
}

std::string not_answered(const Circuit& circuit, const Test& test, std::string_view line) {
    return "'" + std::string(trimmed(line)) + "' does not answer " + write_test(circuit, test) +
           "; what else was seen or measured is a whole reading, with its place";
}

}  // namespace voltfall
