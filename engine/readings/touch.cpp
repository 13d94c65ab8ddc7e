#include "engine/readings/touch.hpp"

#include <algorithm>
#include <cmath>

#include "engine/readings/rounding.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Terminals for wires up to this are too small for a probe to be felt, mm2 (common practice, no source).
constexpr double small_wire_mm2 = 0.5;

bool in_the_hand(const State& state, const Joint& joint) {
    return std::any_of(state.unplugged.begin(), state.unplugged.end(),
                       [&](const std::string& name) { return same_word(name, joint.place); });
}

/// Which part or connector the joint belongs to: by its place, else by its own name ("SP1").
PartId owner_of(const Circuit& circuit, const Joint& joint) {
    const PartId owner = circuit.part_at(joint.place);
    return owner.valid() ? owner : circuit.part_at(joint.name);
}

bool is_sealed(const Circuit& circuit, const Joint& joint) {
    return std::any_of(circuit.closed.begin(), circuit.closed.end(), [&](const auto& entry) {
        return entry.second != "electronic" && same_word(entry.first, joint.place);
    });
}

bool has_small_wire(const Circuit& circuit, JointId joint) {
    return std::any_of(circuit.wires.begin(), circuit.wires.end(), [&](const Wire& wire) {
        return (wire.from.joint == joint || wire.to.joint == joint) && wire.area_mm2 <= small_wire_mm2;
    });
}

}  // namespace

double no_touch_chance(const Circuit& circuit, const State& state, JointId joint) {
    static const double hand = measured_default("no_touch_hand");
    static const double plug = measured_default("no_touch_plug");
    static const double small = measured_default("no_touch_small");
    if (joint == circuit.reference) return 0;
    const Joint& point = circuit.joint(joint);
    const PartId owner = owner_of(circuit, point);
    const bool post = owner.valid() && (owner == circuit.battery || joins(circuit.part(owner), Joining::metal));
    if (post || in_the_hand(state, point)) return hand;
    const bool pierced = owner.valid() && joins(circuit.part(owner), Joining::legs);
    return pierced || is_sealed(circuit, point) || has_small_wire(circuit, joint) ? small : plug;
}

double no_touch_chance(const Circuit& circuit, const State& state, JointId red, JointId black) {
    return 1 - (1 - no_touch_chance(circuit, state, red)) * (1 - no_touch_chance(circuit, state, black));
}

namespace {

/// Of one lead; where its phrase leaves the joint open, the one that is touched least.
double lead_without_touch(const Circuit& circuit, const State& state, const Point& point,
                          std::span<const VoltsReading* const> of_the_state) {
    double most = 0;
    for (const JointId joint : point.joints) {
        const bool shown = std::any_of(of_the_state.begin(), of_the_state.end(), [&](const VoltsReading* volts) {
            const bool here = volts->red.joints == std::vector{joint} || volts->black.joints == std::vector{joint};
            return here && !shows_zero(volts->value);
        });
        const double again = shown ? measured_default("no_touch_again") : 1;
        most = std::max(most, again * no_touch_chance(circuit, state, joint));
    }
    return most;
}

}  // namespace

bool shows_zero(const ReadValue& value) {
    return value.low == value.high && std::abs(value.low) < 0.5 * value.last_digit + 1e-9;
}

double zero_without_touch(const Circuit& circuit, const State& state, const VoltsReading& zero,
                          std::span<const VoltsReading* const> of_the_state) {
    const double once = 1 - (1 - lead_without_touch(circuit, state, zero.red, of_the_state)) *
                                (1 - lead_without_touch(circuit, state, zero.black, of_the_state));
    const auto looks = std::count_if(of_the_state.begin(), of_the_state.end(), [&](const VoltsReading* volts) {
        const bool same = (volts->red == zero.red && volts->black == zero.black) ||
                          (volts->red == zero.black && volts->black == zero.red);
        return same && shows_zero(volts->value);
    });
    if (looks < 2) return once;
    const auto n = static_cast<double>(looks);
    return std::pow(once * std::pow(measured_default("no_touch_again"), n - 1), 1 / n);
}

}  // namespace voltfall
