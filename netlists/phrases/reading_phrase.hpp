// `STATE MEASUREMENT VALUE [?]`: one thing measured or seen.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/phrases/test.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// A typed number: `12.6V`, `~12V`, `>10V`, `<0.1V`, `0.06-0.15V`, `open`/`OL`.
struct ReadValue {
    double low{};  ///< equal to high for one number; -inf or +inf for `<` and `>`
    double high{};
    Unit unit{Unit::none};
    double last_digit{0};  ///< size of the last digit typed or shown
    bool about{false};     ///< ~
    bool open{false};      ///< open, OL
    std::string text;      ///< as typed, or as an instrument shows it

    /// The same value; how it is written does not count.
    bool operator==(const ReadValue& other) const;
};

// What a test is, with what it showed. Where a thing is said and not tested ("M1 good"), nothing was asked.
struct VoltsReading : VoltsTest {
    ReadValue value;
};
struct OhmsReading : OhmsTest {
    ReadValue value;
};
struct AmpsReading : AmpsTest {
    ReadValue value;
};
struct LampReading : LampTest {
    std::string word;
};  ///< bright, dim, dark, lit
struct BeepReading : BeepTest {
    bool beeps;
};
struct LiveReading : VoltsTest {
    bool live;
};  ///< volts by an instrument that only tells live from dead
struct HeatReading : HeatTest {
    ReadValue value;
};  ///< a rise or a temperature
struct HotterReading : HotterTest {
    ReadValue value;
};
struct LoadReading : LoadTest {
    std::string word;
};  ///< one of `load_word_table`, or ok
struct AirReading : AirTest {
    std::string word;
};  ///< none weak normal
struct RelayReading : RelayTest {
    std::string word;
};  ///< clicks silent pulled released
struct FuseReading : FuseTest {
    std::string word;                     ///< good, blown, sometimes-blown (tripped reads as blown), missing
    std::optional<StatePhrase> at;        ///< `at hi`
    std::optional<double> after_seconds;  ///< `at once` is 0
};
struct RatingReading : RatingTest {
    ReadValue value;
};  ///< amperes printed on the fuse
struct GoodReading : NoTest {
    PartId part;
};
struct LookReading : LookTest {
    std::vector<std::string> words;
};
struct DragReading : DragTest {
    std::string word;
};  ///< good, light, none
struct RippleReading : RippleTest {
    std::string word;
};  ///< even, one-low, gaps
struct SmellReading : SmellTest {
    std::string word;
};  ///< smell, smoke
struct DutyReading : DutyTest {
    double share;
    double hertz;
};
struct QuantityReading : QuantityTest {
    ReadValue value;
};  ///< a pressure or temperature that moves a contact
/// A state and nothing measured: `new M1` alone is kept with the blower word that follows it, if any.
struct NoMeasurement : NoTest {};

using Measurement =
    std::variant<VoltsReading, OhmsReading, AmpsReading, LampReading, BeepReading, LiveReading, HeatReading,
                 HotterReading, LoadReading, AirReading, RelayReading, FuseReading, GoodReading, LookReading,
                 DragReading, RippleReading, SmellReading, DutyReading, RatingReading, QuantityReading, NoMeasurement>;

struct Reading {
    std::string id;  ///< the key in the file: "3"
    StatePhrase state;
    Measurement measurement;
    bool doubted{false};  ///< trailing ?
    std::string text;     ///< as typed
    std::string note;
    SourcePlace place;
};

/// What was asked: the reading's state, and its measurement without the value.
Test test_of(const Reading& reading);
Tested tested_of(const Measurement& measurement);

/// The same measurement with the same value.
bool same_measurement(const Measurement& one, const Measurement& other);

/// The number of volts, ohms, amperes or degrees; null for words.
const ReadValue* number_of(const Measurement& measurement);

/// Reads one reading. At the front exact case wins (`m1` the position, `M1` the motor); otherwise the parse that leaves
/// a whole measurement; if both do, a problem shows both.
std::optional<Reading> read_reading_phrase(const TypedText& phrase, const std::string& id, const Circuit& circuit,
                                           Problems& problems);

/// The words of the value: "10.3V", "slow", "blown at once"; empty where nothing was measured.
std::string write_value(const Circuit& circuit, const Measurement& measurement);

/// The whole line, without its note: "hi  M1.1 to B1-  10.3V".
std::string write_reading(const Circuit& circuit, const Reading& reading);

/// A point phrase: `M1.1`, `C101.4@541`, `C303.1`, `B1-`, `SP1`. Nothing (and a problem) when unknown.
std::optional<Point> read_point(const Word& word, const WordReader& words, const Circuit& circuit, Problems& problems);

/// A place phrase of `look`, `rise`, `[reach]`, `[care]`: a part, connector, cavity, wire or joint; its name as the
/// circuit writes it, or nothing.
std::optional<std::string> find_place(const Circuit& circuit, std::string_view typed);

/// Names for suggestions: parts, wires, joints.
std::vector<std::string> place_names(const Circuit& circuit);

}  // namespace voltfall
