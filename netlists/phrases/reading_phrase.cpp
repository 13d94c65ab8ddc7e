#include "netlists/phrases/reading_phrase.hpp"

#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/reading_advice.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

std::optional<Reading> read_reading_phrase(const TypedText& phrase, const std::string& id, const Circuit& circuit,
                                           Problems& problems) {
    const MeterText meter = without_meter_words(phrase.text);
    if (meter.alternating) {
        problems.error(ProblemCode::wrong_unit, phrase.place,
                       "alternating volts or amperes are not weighed: the circuit is one of direct current",
                       "switch the meter to DC and read again");
        return std::nullopt;
    }
    const TrimmedPhrase trimmed = trim_phrase({meter.phrase, phrase.place});
    if (without_note(trimmed.phrase).empty()) {
        problems.error(ProblemCode::empty_phrase, phrase.place, "the reading is empty",
                       "for example hi  M1.1 to B1-  10.3V");
        return std::nullopt;
    }
    Problems as_it_stands;
    auto found = parse_reading(trimmed.phrase, circuit, as_it_stands);
    if (!found) {
        add_clearest(trimmed.phrase, circuit, as_it_stands, problems);
        return std::nullopt;
    }
    problems.add_all(as_it_stands);
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
