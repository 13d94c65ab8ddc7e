#include "engine/planning/test_minutes.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

double action_minutes(TestKind kind) {
    switch (kind) {
        case TestKind::volts:
            return default_value("minutes_volts");
        case TestKind::clamp:
            return default_value("minutes_clamp");
        case TestKind::load:
        case TestKind::new_fuse:  // what they take is their state's
        case TestKind::wiggle:
            return default_value("minutes_control");
        case TestKind::fuse:
        case TestKind::rating:
        case TestKind::look:
            return default_value("minutes_look");
        case TestKind::feel:
            return default_value("minutes_feel");
        case TestKind::ohms:
            return default_value("minutes_ohms");
        case TestKind::gauge:
            return default_value("minutes_gauge");
    }
    return 0;
}

}  // namespace

void add_reached(const Circuit& circuit, const std::string& place, std::vector<std::string>& reached) {
    reached.push_back(place);
    for (const Strip& strip : circuit.strips) {
        const bool inside = std::any_of(strip.places.begin(), strip.places.end(),
                                        [&](const std::string& p) { return same_word(p, place); });
        if (inside) reached.insert(reached.end(), strip.places.begin(), strip.places.end());
    }
}

/// "C101.4" is reached by way of C101.
std::string reach_place(const Circuit& circuit, const std::string& place) {
    if (circuit.reach_of(place).known) return place;
    const std::string whole(read_place(place).owner);
    if (circuit.find_part(whole).valid() || circuit.reach_of(whole).known) return whole;
    if (const WireId wire = circuit.find_wire(place); wire.valid()) {
        const std::string& from = circuit.joint(circuit.wire(wire).from.joint).place;
        const std::string& to = circuit.joint(circuit.wire(wire).to.joint).place;
        return circuit.reach_of(to).minutes < circuit.reach_of(from).minutes ? to : from;
    }
    return place;
}

std::vector<std::string> reached_places(const Circuit& circuit, const Job& job) {
    std::vector<std::string> reached;
    const auto add_points = [&](const Point& point) {
        for (const JointId joint : point.joints)
            add_reached(circuit, reach_place(circuit, circuit.joint(joint).place), reached);
    };
    const auto add_place = [&](const std::string& place) {
        add_reached(circuit, reach_place(circuit, place), reached);
    };
    for (const Reading& reading : job.readings) {
        std::visit(
            Overloaded{
                [&](const VoltsReading& m) {
                    add_points(m.red);
                    add_points(m.black);
                },
                [&](const LampReading& m) { add_points(m.red); },
                [&](const LiveReading& m) { add_points(m.red); },
                [&](const OhmsReading& m) { add_points(m.red); },
                [&](const BeepReading& m) { add_points(m.red); },
                [&](const AmpsReading& m) { add_place(circuit.wire(m.wire).name); },
                [&](const LookReading& m) { add_place(m.place); },
                [&](const RatingReading& m) { add_reached(circuit, circuit.part(m.part).name, reached); },
                [&](const FuseReading& m) { add_reached(circuit, circuit.part(m.part).name, reached); },
                // Told from where one stands, or not said how.
                alike<HeatReading, HotterReading, LoadReading, AirReading, RelayReading, GoodReading, DragReading,
                      RippleReading, SmellReading, DutyReading, QuantityReading, NoMeasurement>([] {}),
            },
            reading.measurement);
        for (const std::string& name : reading.state.unplugged) add_place(name);
    }
    return reached;
}

std::vector<Opening> openings_of(const Circuit& circuit, const TestCandidate& test,
                                 const std::vector<std::string>& reached) {
    std::vector<Opening> list;
    for (const std::string& typed : test.places) {
        const std::string place = reach_place(circuit, typed);
        const bool there =
            std::any_of(reached.begin(), reached.end(), [&](const std::string& p) { return same_word(p, place); });
        if (there) continue;
        const Circuit::Reach reach = circuit.reach_of(place);
        const std::string& name = reach.strip.empty() ? place : reach.strip;
        const bool twice = std::any_of(list.begin(), list.end(),
                                       [&](const Opening& opening) { return same_word(opening.name, name); });
        if (!twice) list.push_back({name, reach.minutes, reach.known});
    }
    return list;
}

TestMinutes minutes_of(const Circuit& circuit, const TestCandidate& test, const std::vector<std::string>& reached) {
    TestMinutes result;
    result.minutes = action_minutes(test.kind) + test.state_minutes;
    for (const Opening& opening : openings_of(circuit, test, reached)) {
        result.minutes += opening.minutes;
        if (!opening.known) result.notes.push_back(fmt::format("minutes guessed: no [reach] for {}", opening.name));
        const bool strip = std::any_of(circuit.strips.begin(), circuit.strips.end(),
                                       [&](const Strip& s) { return same_word(s.name, opening.name); });
        if (strip) result.notes.push_back(fmt::format("opens by {}", opening.name));
    }
    return result;
}

}  // namespace voltfall
