// What a reading asked, and how it is written.
#include <fmt/format.h>

#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

std::string write_time(double seconds) {
    return seconds == 0 ? "at once" : fmt::format("after {:g}s", seconds);
}

/// The words of the value, kind by kind.
struct ValueWriter {
    const Circuit& circuit;

    std::string operator()(const LampReading& r) const { return r.word; }
    std::string operator()(const BeepReading& r) const { return r.beeps ? "yes" : "no"; }
    std::string operator()(const LiveReading& r) const { return r.live ? "live" : "dead"; }
    std::string operator()(const LoadReading& r) const {
        return std::string(load_word_said(load_kind_of(circuit.part(r.part)), r.word));
    }
    std::string operator()(const FuseReading& r) const {
        std::string text = r.word;
        if (r.at) text += " at " + write_state(circuit, *r.at);
        if (r.after_seconds) text += " " + write_time(*r.after_seconds);
        return text;
    }
    std::string operator()(const GoodReading& r) const { return circuit.part(r.part).name + " good"; }
    std::string operator()(const LookReading& r) const {
        std::string text;
        for (const std::string& word : r.words) {
            text += (text.empty() ? "" : " ") + (is_look_word(word) ? word : "\"" + word + "\"");
        }
        return text;
    }
    std::string operator()(const DutyReading& r) const {
        return fmt::format("{:g}%", 100 * r.share) + (r.hertz > 0 ? fmt::format(" {:g}Hz", r.hertz) : "");
    }
    std::string operator()(const NoMeasurement&) const { return {}; }
    template <class Kind>
    std::string operator()(const Kind& r) const {
        if constexpr (requires { r.value; })
            return r.value.text;
        else
            return r.word;
    }
};

template <class Kind>
concept HasNumber = requires(const Kind& reading) {
    reading.value.low;
};

}  // namespace

bool ReadValue::operator==(const ReadValue& other) const {
    return low == other.low && high == other.high && unit == other.unit && last_digit == other.last_digit &&
           about == other.about && open == other.open;
}

Tested tested_of(const Measurement& measurement) {
    struct Asked {
        Tested operator()(const VoltsTest& t) const { return t; }
        Tested operator()(const OhmsTest& t) const { return t; }
        Tested operator()(const AmpsTest& t) const { return t; }
        Tested operator()(const LampTest& t) const { return t; }
        Tested operator()(const BeepTest& t) const { return t; }
        Tested operator()(const HeatTest& t) const { return t; }
        Tested operator()(const HotterTest& t) const { return t; }
        Tested operator()(const LoadTest& t) const { return t; }
        Tested operator()(const AirTest& t) const { return t; }
        Tested operator()(const RelayTest& t) const { return t; }
        Tested operator()(const FuseTest& t) const { return t; }
        Tested operator()(const LookTest& t) const { return t; }
        Tested operator()(const DragTest& t) const { return t; }
        Tested operator()(const RippleTest& t) const { return t; }
        Tested operator()(const SmellTest& t) const { return t; }
        Tested operator()(const DutyTest& t) const { return t; }
        Tested operator()(const RatingTest& t) const { return t; }
        Tested operator()(const QuantityTest& t) const { return t; }
        Tested operator()(const NoTest& t) const { return t; }
    };
    return std::visit(Asked{}, measurement);
}

Test test_of(const Reading& reading) {
    return {reading.state, tested_of(reading.measurement)};
}

bool same_measurement(const Measurement& one, const Measurement& other) {
    if (one.index() != other.index() || !(tested_of(one) == tested_of(other))) return false;
    return std::visit(
        [&]<class Kind>(const Kind& a) {
            const Kind& b = std::get<Kind>(other);
            if constexpr (HasNumber<Kind>)
                return a.value == b.value;
            else if constexpr (requires { a.words; })
                return a.words == b.words;
            else if constexpr (requires { a.at; })
                return a.word == b.word && a.at == b.at && a.after_seconds == b.after_seconds;
            else if constexpr (requires { a.word; })
                return a.word == b.word;
            else if constexpr (requires { a.beeps; })
                return a.beeps == b.beeps;
            else if constexpr (requires { a.live; })
                return a.live == b.live;
            else if constexpr (requires { a.hertz; })
                return a.share == b.share && a.hertz == b.hertz;
            else if constexpr (requires { a.part; })
                return a.part == b.part;
            else
                return true;
        },
        one);
}

const ReadValue* number_of(const Measurement& measurement) {
    return std::visit(
        []<class Kind>(const Kind& reading) -> const ReadValue* {
            if constexpr (HasNumber<Kind>)
                return &reading.value;
            else
                return nullptr;
        },
        measurement);
}

std::string write_value(const Circuit& circuit, const Measurement& measurement) {
    return std::visit(ValueWriter{circuit}, measurement);
}

std::string write_reading(const Circuit& circuit, const Reading& reading) {
    const std::string state = write_state(circuit, reading.state);
    std::string asked = write_tested(circuit, tested_of(reading.measurement));
    std::string value = write_value(circuit, reading.measurement);
    // The unit of the value tells ohms from volts.
    if (const auto* ohms = std::get_if<OhmsReading>(&reading.measurement))
        asked = write_tested(circuit, VoltsTest{*ohms, {}});
    if (const auto* smell = std::get_if<SmellReading>(&reading.measurement)) {
        asked = smell->word + " " + smell->place;
        value.clear();
    }
    std::string text = state;
    for (const std::string& piece : {asked, value}) {
        if (!piece.empty()) text += (text.empty() ? "" : "  ") + piece;
    }
    return reading.doubted ? text + " ?" : text;
}

}  // namespace voltfall
