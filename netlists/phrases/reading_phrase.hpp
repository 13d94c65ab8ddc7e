// `STATE MEASUREMENT VALUE [?]`: one thing measured or seen.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// A typed number: `12.6V`, `~12V`, `>10V`, `<0.1V`, `0.06-0.15V`, `open`/`OL`.
struct ReadValue {
    double low{};              ///< equal to high for one number; -inf or +inf for `<` and `>`
    double high{};
    Unit unit{Unit::none};
    double last_digit{0};      ///< size of the last typed digit
    bool about{false};         ///< ~
    bool open{false};          ///< open, OL
    std::string text;
};

/// A point as typed; several joints where the phrase leaves it open (`C101.4` is either half).
struct Point {
    std::vector<JointId> joints;
    std::string text;
};

struct VoltsReading { Point red; Point black; ReadValue value; };          ///< black empty: `to ?`, unknown
struct OhmsReading { Point red; Point black; ReadValue value; };
struct AmpsReading { WireId wire; std::string what; ReadValue value; };    ///< clamp; `what` "", "inrush", "swings"
struct LampReading { Point red; Point black; std::string word; };          ///< bright, dim, dark, lit
struct BeepReading { Point red; Point black; bool beeps; };
struct LiveReading { Point red; Point black; bool live; };
struct HeatReading { std::string place; bool rise; ReadValue value; };     ///< rise or temperature
struct HotterReading { std::string hotter; std::string colder; ReadValue value; };
struct LoadReading { PartId part; std::string word; };                     ///< dead slow normal fast runs weak erratic hums squeals
struct AirReading { std::string word; };                                   ///< none weak normal
struct RelayReading { PartId part; std::string word; };                    ///< clicks silent pulled released
struct FuseReading {
    PartId part;
    std::string word;                           ///< good, blown, sometimes-blown (tripped reads as blown)
    std::optional<StatePhrase> at;              ///< `at hi`
    std::optional<double> after_seconds;        ///< `at once` is 0
};
struct GoodReading { PartId part; };
struct LookReading { std::string place; std::vector<std::string> words; };
struct DragReading { std::string place; std::string word; };               ///< pin drag good, light, none
struct RippleReading { PartId part; std::string word; };                   ///< even, one-low, gaps
struct SmellReading { std::string place; std::string word; };              ///< smell, smoke
struct DutyReading { Point point; double share; double hertz; };
/// A state and nothing measured: `new M1` alone is kept with the blower word that follows it, if any.
struct NoMeasurement {};

using Measurement = std::variant<VoltsReading, OhmsReading, AmpsReading, LampReading, BeepReading, LiveReading, HeatReading,
                                 HotterReading, LoadReading, AirReading, RelayReading, FuseReading, GoodReading, LookReading,
                                 DragReading, RippleReading, SmellReading, DutyReading, NoMeasurement>;

struct Reading {
    std::string id;            ///< the key in the file: "3"
    StatePhrase state;
    Measurement measurement;
    bool doubted{false};       ///< trailing ?
    std::string text;          ///< as typed
    std::string note;
    SourcePlace place;
};

/// Reads one reading. At the front exact case wins (`m1` the position, `M1` the motor); otherwise the parse that leaves a
/// whole measurement; if both do, a problem shows both.
std::optional<Reading> read_reading_phrase(const TypedText& phrase, const std::string& id, const Circuit& circuit, Problems& problems);

/// A point phrase: `M1.1`, `C101.4@541`, `C303.1`, `B1-`, `SP1`. Nothing (and a problem) when unknown.
std::optional<Point> read_point(const Word& word, const WordReader& words, const Circuit& circuit, Problems& problems);

/// A place phrase of `look`, `rise`, `[reach]`, `[care]`: a part, connector, cavity, wire or joint; its name as the circuit
/// writes it, or nothing.
std::optional<std::string> find_place(const Circuit& circuit, std::string_view typed);

/// Names for suggestions: parts, wires, joints.
std::vector<std::string> place_names(const Circuit& circuit);

}  // namespace voltfall
