#include "engine/lessons/judgement.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

/// Less than this in every load is "no current".
constexpr double no_amps = 0.02;
/// Less than this between two leads is a drop, not a supply.
constexpr double drop_below_share = 0.2;

std::optional<Measured> answer(Simulator& simulator, Vehicle vehicle, const Exercise& exercise, const Test& test) {
    Technician technician(simulator, std::move(vehicle), exact_meters(), exercise.lesson.tools);
    auto measured = technician.measure(test);
    if (!measured) return std::nullopt;
    return *std::move(measured);
}

Vehicle sound_vehicle(const Exercise& exercise) {
    Vehicle vehicle;
    vehicle.circuit = exercise.circuit.get();
    return vehicle;
}

/// How far off the value may be that the instrument shows, in its unit.
double limit_of(const Measured& measured, const std::vector<Tool>& tools) {
    const double value = std::abs(measured.truth);
    if (measured.unit == Unit::ampere) return accuracy_of(Instrument::clamp, tools).limit(value, clamp_digit);
    if (measured.unit == Unit::pascal) return 1.5e4;  // a service gauge and its reader, Pa (ASSUMED)
    if (measured.unit == Unit::celsius) return 2;     // a thermometer held to the place, K (ASSUMED)
    if (measured.unit == Unit::ohm) return read_accuracy(default_row("meter_ohms").text).limit(value, 0.1);
    return accuracy_of(Instrument::meter, tools).limit(value, volts_digit(value));
}

bool is_to_reference(const Exercise& exercise, const VoltsTest& volts) {
    return volts.black.joints.front() == exercise.circuit->reference;
}

/// Why this instrument shows no difference where there is a fault.
std::string by_instrument(const Exercise& exercise, const Test& test, const Measured& found, const Measured& sound) {
    const auto own_current = [] {
        return std::string(
            "the meter's own small current finds no difference there; what fails under load measures well without");
    };
    const auto same_value = [&]() -> std::string {
        const double change = std::abs(found.truth - sound.truth);
        if (found.unit == Unit::volt && change > 0.0005)
            return fmt::format("with the fault it moves by {:.0f} mV, less than the meter can be off", 1000 * change);
        return "it reads the same with and without the fault";
    };
    return std::visit(
        Overloaded{
            [&](const LampTest&) {
                return fmt::format(
                    "the lamp draws no more than {:.1f} A: a joint that fails under the load's current still "
                    "lights it",
                    default_value("test_lamp_watts") / exercise.circuit->supply);
            },
            alike<OhmsTest, BeepTest>(own_current),
            [](const FuseTest&) { return std::string("a whole fuse says nothing of the current behind it"); },
            [](const LookTest&) { return std::string("there is nothing to see there"); },
            alike<VoltsTest, AmpsTest, HeatTest, HotterTest, LoadTest, AirTest, RelayTest, RatingTest, DragTest,
                  RippleTest, SmellTest, DutyTest, QuantityTest, NoTest>(same_value),
        },
        test.tested);
}

}  // namespace

double sound_amps(Simulator& simulator, const Exercise& exercise, const Test& test) {
    const Circuit& circuit = *exercise.circuit;
    const SettleResult settled = settle(simulator, circuit, states_of(circuit, test.state).front(), {});
    if (!settled) return 0;
    double most = 0;
    for (const PartId load : loads_of(circuit)) {
        most = std::max(most, std::abs(settled->point.amps[circuit.part(load).load_branch.index]));
    }
    return most;
}

std::optional<Measured> sound_answer(Simulator& simulator, const Exercise& exercise, const Test& test) {
    return answer(simulator, sound_vehicle(exercise), exercise, test);
}

std::optional<Measured> found_answer(Simulator& simulator, const Exercise& exercise, const Test& test) {
    return answer(simulator, exercise.found, exercise, test);
}

bool tells_apart(const Measured& one, const Measured& other, const std::vector<Tool>& tools) {
    if (one.unit != other.unit) return true;
    if (one.unit == Unit::none) return !same_measurement(one.reading.measurement, other.reading.measurement);
    const bool one_open = !std::isfinite(one.truth) || one.is_open();
    const bool other_open = !std::isfinite(other.truth) || other.is_open();
    if (one_open || other_open) return one_open != other_open;
    return std::abs(one.truth - other.truth) > std::max(limit_of(one, tools), limit_of(other, tools));
}

std::optional<std::string> why_empty(Simulator& simulator, const Exercise& exercise, const Test& test) {
    const auto* volts = std::get_if<VoltsTest>(&test.tested);
    if (!volts) return std::nullopt;
    const auto sound = sound_answer(simulator, exercise, test);
    if (!sound) return std::nullopt;
    if (sound->floats)
        return "even in a sound vehicle nothing holds this point in this state: a meter shows about 0 V, and that is "
               "no ground";
    const bool drop =
        !is_to_reference(exercise, *volts) && std::abs(sound->truth) < drop_below_share * exercise.circuit->supply;
    if (drop && sound_amps(simulator, exercise, test) < no_amps)
        return "nothing runs in this state: without current the worst joint drops nothing";
    return std::nullopt;
}

std::optional<std::string> why_blind(Simulator& simulator, const Exercise& exercise, const Test& test) {
    const auto found = found_answer(simulator, exercise, test);
    const auto sound = sound_answer(simulator, exercise, test);
    if (!found || !sound || tells_apart(*found, *sound, exercise.lesson.tools)) return std::nullopt;
    const Technician technician(simulator, exercise.found, exact_meters(), exercise.lesson.tools);
    const State state = technician.state_of(test.state);
    const std::vector<Fault> hidden = exercise.hidden();
    const bool hides = !hidden.empty() && std::none_of(hidden.begin(), hidden.end(), [&](const Fault& fault) {
        return present(*exercise.circuit, fault, state);
    });
    if (hides) return "the fault was not there just then: what brings it about was not done at its place";
    if (auto empty = why_empty(simulator, exercise, test)) return empty;
    const bool volts = std::holds_alternative<VoltsTest>(test.tested);
    if (volts && sound_amps(simulator, exercise, test) < no_amps)
        return "nothing runs in this state: good volts without a load prove nothing";
    return by_instrument(exercise, test, *found, *sound);
}

}  // namespace voltfall
