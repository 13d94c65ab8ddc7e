// A test: a state of the circuit, and what is measured, looked at or listened to in it. What it shows is no part of it.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/state_phrase.hpp"

namespace voltfall {

/// A point as typed; several joints where the phrase leaves it open (`C101.4` is either half).
struct Point {
    std::vector<JointId> joints;
    std::string text;

    /// The same joints; how the point was typed does not count.
    bool operator==(const Point& other) const { return joints == other.joints; }
};

/// Where the two leads of an instrument stand. `black` without joints: not told (`to ?`).
struct Leads {
    Point red;
    Point black;
    bool operator==(const Leads&) const = default;
};

struct VoltsTest : Leads {
    /// `across PLACE`: what lies between the leads, as the circuit names it. Which lead stands on which side is then
    /// not told, so that the sign means nothing. Empty: two points.
    std::string across;
    bool operator==(const VoltsTest&) const = default;
};
struct OhmsTest : Leads {
    bool operator==(const OhmsTest&) const = default;
};
struct LampTest : Leads {
    bool operator==(const LampTest&) const = default;
};  ///< a test lamp between two points
struct BeepTest : Leads {
    bool operator==(const BeepTest&) const = default;
};
/// A clamp around a wire; `what` is empty, "inrush" or "swings".
struct AmpsTest {
    WireId wire;
    std::string what;
    bool operator==(const AmpsTest&) const = default;
};
/// The temperature of a place, or its rise over the air.
struct HeatTest {
    std::string place;
    bool rise;
    bool operator==(const HeatTest&) const = default;
};
struct HotterTest {
    std::string hotter;
    std::string colder;
    bool operator==(const HotterTest&) const = default;
};
struct LoadTest {
    PartId part;
    std::string called;  ///< the word for it that was used ("blower"); empty: its name
    bool operator==(const LoadTest& other) const { return part == other.part; }
};
struct AirTest {
    bool operator==(const AirTest&) const = default;
};
struct RelayTest {
    PartId part;
    bool operator==(const RelayTest&) const = default;
};
struct FuseTest {
    PartId part;
    bool operator==(const FuseTest&) const = default;
};
/// The number printed on the fuse in a seat.
struct RatingTest {
    PartId part;
    bool operator==(const RatingTest&) const = default;
};
struct LookTest {
    std::string place;
    bool operator==(const LookTest&) const = default;
};
struct DragTest {
    std::string place;
    bool operator==(const DragTest&) const = default;
};  ///< a test pin's pull in a cavity
struct RippleTest {
    PartId part;
    bool operator==(const RippleTest&) const = default;
};
struct SmellTest {
    std::string place;
    bool operator==(const SmellTest&) const = default;
};
struct DutyTest {
    Point point;
    bool operator==(const DutyTest&) const = default;
};
/// Which of a gas system's pressures: `low side` moves the contacts that close above their figures, `high side` those
/// that open above them, and a system at rest has one for all.
enum class GasSide { both, low, high };

/// The pressure or temperature that moves a contact: of one contact, or where `part` is invalid the gas's, which may
/// move several.
struct QuantityTest {
    PartId part;
    GasSide side{GasSide::both};
    bool operator==(const QuantityTest&) const = default;
};
/// The contacts that the quantity of the test moves.
std::vector<PartId> contacts_moved(const Circuit& circuit, const QuantityTest& test);

/// Nothing is asked: a part said to be good, a state alone.
struct NoTest {
    bool operator==(const NoTest&) const = default;
};

using Tested =
    std::variant<VoltsTest, OhmsTest, AmpsTest, LampTest, BeepTest, HeatTest, HotterTest, LoadTest, AirTest, RelayTest,
                 FuseTest, LookTest, DragTest, RippleTest, SmellTest, DutyTest, RatingTest, QuantityTest, NoTest>;

struct Test {
    StatePhrase state;
    Tested tested;

    /// The same state and measurement; how they were typed does not count.
    bool operator==(const Test&) const = default;
};

/// The leads of volts, ohms, lamps and beeps; null for anything else.
const Leads* leads_of(const Tested& tested);
Leads* leads_of(Tested& tested);

}  // namespace voltfall
