#include "netlists/circuit/circuit.hpp"

#include <algorithm>
#include <cassert>
#include <stdexcept>

#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

std::string FaultMode::phrase() const {
    if (!head.empty()) return head + " " + place + (mode.empty() ? "" : " " + mode);
    return mode.empty() ? place : place + " " + mode;
}

std::string_view FaultMode::words_without_at() const {
    const std::string_view words = mode;
    return at.empty() ? words : words.substr(0, words.size() - std::string_view(" at ").size() - at.size());
}

const Parameter* Part::parameter(std::string_view wanted) const {
    const auto found =
        std::find_if(parameters.begin(), parameters.end(), [&](const Parameter& p) { return p.name == wanted; });
    return found == parameters.end() ? nullptr : &*found;
}

double Part::value(std::string_view wanted) const {
    const Parameter* found = parameter(wanted);
    if (!found) throw std::logic_error("part " + name + " has no parameter '" + std::string(wanted) + "'");
    return found->value;
}

bool Part::has_flag(std::string_view flag) const {
    return std::find(flags.begin(), flags.end(), flag) != flags.end();
}

namespace {

/// What is printed on a switch where others print off: the sign of IEC 60417-5008, and words (common practice, no
/// source).
bool says_off(std::string_view name) {
    return same_word(name, "0") || same_word(name, "O") || same_word(name, "aus") || same_word(name, "stop");
}

}  // namespace

std::optional<std::size_t> Part::position_named(std::string_view wanted) const {
    for (std::size_t i = 0; i < positions.size(); ++i) {
        if (positions[i].name == wanted) return i;
    }
    for (std::size_t i = 0; i < positions.size(); ++i) {
        if (same_word(positions[i].name, wanted)) return i;
    }
    if (!same_word(wanted, "off")) return std::nullopt;
    for (std::size_t i = 0; i < positions.size(); ++i) {
        if (positions[i].contacts.empty() && says_off(positions[i].name)) return i;
    }
    return std::nullopt;
}

PartId Circuit::find_part(std::string_view wanted) const {
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (same_word(parts[i].name, wanted)) return {static_cast<std::uint32_t>(i)};
    }
    return {};
}

WireId Circuit::find_wire(std::string_view wanted) const {
    for (std::size_t i = 0; i < wires.size(); ++i) {
        if (same_word(wires[i].name, wanted)) return {static_cast<std::uint32_t>(i)};
    }
    // `60b` is the second piece of chain 60.
    if (wanted.size() < 2) return {};
    const char letter = lower(wanted.substr(wanted.size() - 1))[0];
    if (letter < 'a' || letter > 'z') return {};
    const std::string piece = std::string(wanted.substr(0, wanted.size() - 1)) + ":" + std::to_string(letter - 'a' + 1);
    for (std::size_t i = 0; i < wires.size(); ++i) {
        if (same_word(wires[i].name, piece)) return {static_cast<std::uint32_t>(i)};
    }
    return {};
}

JointId Circuit::find_joint(std::string_view wanted) const {
    for (std::size_t i = 0; i < joints.size(); ++i) {
        if (same_word(joints[i].name, wanted)) return {static_cast<std::uint32_t>(i)};
    }
    for (std::size_t i = 0; i < joints.size(); ++i) {
        for (const std::string& alias : joints[i].aliases) {
            if (same_word(alias, wanted)) return {static_cast<std::uint32_t>(i)};
        }
    }
    return {};
}

PartId Circuit::part_at(std::string_view place) const {
    if (const PartId part = find_part(place); part.valid()) return part;
    const std::string_view owner = read_place(place).owner;
    if (const PartId part = find_part(owner); part.valid()) return part;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (!parts[i].plug.empty() && same_word(parts[i].plug, owner)) return {static_cast<std::uint32_t>(i)};
    }
    return {};
}

bool Circuit::is_control(PartId wanted) const {
    return std::any_of(controls.begin(), controls.end(), [&](const Control& c) { return c.part == wanted; });
}

Circuit::Reach Circuit::reach_of(std::string_view place) const {
    Reach best{default_value("reach_unknown"), false, {}};
    for (const auto& [reached, minutes] : reach) {
        if (same_word(reached, place)) best = {minutes, true, {}};
    }
    for (const Strip& strip : strips) {
        const bool opens = std::any_of(strip.places.begin(), strip.places.end(),
                                       [&](const std::string& p) { return same_word(p, place); });
        if (opens && (!best.known || strip.minutes < best.minutes)) best = {strip.minutes, true, strip.name};
    }
    // Bare metal is wherever one stands.
    if (!best.known && metal.valid() && same_word(place, joint(metal).place)) best = {0, true, {}};
    return best;
}

const Care* Circuit::care_of(std::string_view place) const {
    const auto found = std::find_if(care.begin(), care.end(), [&](const Care& c) { return same_word(c.place, place); });
    return found == care.end() ? nullptr : &*found;
}

}  // namespace voltfall
