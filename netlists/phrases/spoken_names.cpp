#include "netlists/phrases/spoken_names.hpp"

#include <algorithm>
#include <vector>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_sides.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/only_part.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Name = std::optional<std::string>;

/// Where a probe stands at a terminal: at the plug where the part has one of its own name.
Name of_terminal(const Circuit& circuit, const Part& part, const std::string& terminal) {
    const auto& joints = part.plug.empty() ? part.pins : part.harness;
    const auto joint = joints.find(terminal);
    return joint == joints.end() ? std::nullopt : Name(circuit.joint(joint->second).name);
}

Name points_of(const Part& part, const Circuit& circuit, std::string_view one, std::string_view other) {
    const auto first = part.pins.find(std::string(one));
    const auto second = part.pins.find(std::string(other));
    if (first == part.pins.end() || second == part.pins.end()) return std::nullopt;
    return circuit.joint(first->second).name + " to " + circuit.joint(second->second).name;
}

/// `load`, `load+`, `load-`, `load wire`: what is behind the word `load` or `it`.
Name of_load(const Circuit& circuit, PartId load, std::string_view which) {
    if (!load.valid()) return std::nullopt;
    const Part& part = circuit.part(load);
    if (which.empty()) return part.name;
    const auto sides = sides_of_load(circuit, load);
    if (!sides) return std::nullopt;
    if (which == " points") return points_of(part, circuit, sides->feed, sides->back);
    if (which == "+") return of_terminal(circuit, part, sides->feed);
    if (which == "-") return of_terminal(circuit, part, sides->back);
    WireId wire = only_wire_at(circuit, load, sides->feed);
    if (!wire.valid()) wire = only_wire_at(circuit, load, sides->back);
    return wire.valid() ? Name(circuit.wire(wire).name) : std::nullopt;
}

/// The terminal of a fuse that its feed comes to is known where the file says so.
Name of_fuse(const Circuit& circuit, PartId id, std::string_view which) {
    if (!id.valid()) return std::nullopt;
    const Part& fuse = circuit.part(id);
    if (which.empty()) return fuse.name;
    if (fuse.feed.empty()) return std::nullopt;
    return of_terminal(circuit, fuse, which == " in" ? "1" : "2");
}

/// The control input of the only part that has one.
Name command_point(const Circuit& circuit) {
    Name only;
    for (const Part& part : circuit.parts) {
        const auto pin = part.pins.find("CMD");
        if (pin == part.pins.end()) continue;
        if (only) return std::nullopt;
        only = circuit.joint(pin->second).name;
    }
    return only;
}

/// The first and the last tap of a pack; both terminals of what has two.
Name ends_of(const Circuit& circuit, PartId id) {
    constexpr std::size_t least = 2;
    if (!id.valid() || circuit.part(id).pins.size() < least || !circuit.part(id).positions.empty() ||
        circuit.part(id).relay)
        return std::nullopt;
    const auto& pins = circuit.part(id).pins;
    return circuit.joint(pins.begin()->second).name + " to " + circuit.joint(pins.rbegin()->second).name;
}

Name plug_of(const Circuit& circuit, PartId id) {
    if (!id.valid() || circuit.part(id).plug.empty()) return std::nullopt;
    return circuit.part(id).plug;
}

Name of_relay(const Circuit& circuit, PartId id, std::string_view which) {
    if (!id.valid()) id = only_relay(circuit);
    if (!id.valid()) return std::nullopt;
    const Part& relay = circuit.part(id);
    if (which.empty()) return relay.name;
    if (which == " coil") return points_of(relay, circuit, "85", "86");
    if (which == " contact") return points_of(relay, circuit, "30", "87");
    return of_terminal(circuit, relay, std::string(which.substr(1)));
}

/// Where a switch puts out in a position that closes one contact.
Name out_of_position(const Circuit& circuit, const SpokenNames& names) {
    const Part& control = circuit.part(names.control);
    const auto position = control.position_named(names.position);
    if (!position || control.positions[*position].contacts.size() != 1) return std::nullopt;
    return of_terminal(circuit, control, control.positions[*position].contacts.front());
}

/// `two points`, `two 1`, `two 2`: of a part of two terminals.
Name of_two(const Circuit& circuit, PartId id, std::string_view which) {
    if (!id.valid() || circuit.part(id).pins.size() != 2) return std::nullopt;
    const Part& part = circuit.part(id);
    const std::string& first = part.pins.begin()->first;
    const std::string& second = part.pins.rbegin()->first;
    if (which == " points") return points_of(part, circuit, first, second);
    return of_terminal(circuit, part, which == " 1" ? first : second);
}

/// `wire 1`, `wire 2`: the joint at an end, in the order in which the wire is drawn.
Name of_wire(const Circuit& circuit, const std::string& name, std::string_view end) {
    const WireId id = circuit.find_wire(name);
    if (!id.valid()) return std::nullopt;
    const Wire& wire = circuit.wire(id);
    return circuit.joint((end == "1" ? wire.from : wire.to).joint).name;
}

/// The only control, or the only one that switches the load; invalid where it does not tell.
PartId control_of(const Circuit& circuit, PartId load) {
    PartId only;
    for (const Control& one : circuit.controls) {
        if (one.part == circuit.key) continue;
        const auto loads = loads_switched_by(circuit, one.part);
        if (load.valid() && std::find(loads.begin(), loads.end(), load) == loads.end()) continue;
        if (only.valid()) return {};
        only = one.part;
    }
    return only;
}

std::string state_of(const Circuit& circuit, PartId control, std::vector<std::size_t> positions) {
    StatePhrase state;
    state.settings = {{control, std::move(positions)}};
    return write_state(circuit, state);
}

/// The positions of a control that are not off, without `except`, as a state.
Name positions_on(const Circuit& circuit, PartId control, const std::string& except) {
    if (!control.valid()) return std::nullopt;
    std::vector<std::size_t> on;
    const auto& positions = circuit.part(control).positions;
    const auto off = circuit.part(control).position_named("off");
    for (std::size_t i = 0; i < positions.size(); ++i) {
        if (off != i && positions[i].name != except) on.push_back(i);
    }
    return on.empty() ? std::nullopt : Name(state_of(circuit, control, std::move(on)));
}

/// The positions that are on, without the last, which is the fastest.
Name lower_positions(const Circuit& circuit, PartId control) {
    if (!control.valid() || circuit.part(control).positions.empty()) return std::nullopt;
    return positions_on(circuit, control, circuit.part(control).positions.back().name);
}

bool is_fuse(const Part& part) {
    return part.fuse.has_value();
}

bool is_load(const Part& part) {
    return part.load_branch.valid();
}

bool is_motor(const Part& part) {
    return is_load(part) && load_kind_of(part) == LoadKind::motor;
}

bool is_lamp(const Part& part) {
    return is_load(part) && load_kind_of(part) == LoadKind::lamp;
}

bool is_ground(const Part& part) {
    return joins(part, Joining::metal);
}

/// A line of that pattern for each part that `is_one`, parted by `;`; `@` stands for its name.
Name all_of(const Circuit& circuit, bool (*is_one)(const Part&), std::string_view pattern) {
    std::string lines;
    for (const Part& part : circuit.parts) {
        if (!is_one(part)) continue;
        if (!lines.empty()) lines += ';';
        for (const char letter : pattern) lines += letter == '@' ? part.name : std::string(1, letter);
    }
    return lines.empty() ? std::nullopt : Name(lines);
}

/// The rest behind the word; nullopt where the name does not begin so.
std::optional<std::string_view> rest_of(std::string_view name, std::string_view word) {
    return name.starts_with(word) ? std::optional(name.substr(word.size())) : std::nullopt;
}

}  // namespace

bool is_limited(const Part& part) {
    return !part.limiters.empty() || part.has_flag("thermal-link");
}

Name spoken_name(const Circuit& circuit, std::string_view name, const SpokenNames& names) {
    if (name == "place" || name == "point" || name == "time") return names.text;
    if (name == "command") return command_point(circuit);
    if (name == "part ends") return ends_of(circuit, names.part);
    if (name == "named plug") return plug_of(circuit, names.named);
    if (name == "position" || name == "others") {
        if (!names.control.valid()) return std::nullopt;
        if (name == "others") return positions_on(circuit, names.control, names.position);
        const auto position = circuit.part(names.control).position_named(names.position);
        return position ? Name(state_of(circuit, names.control, {*position})) : std::nullopt;
    }
    if (name == "position out") return out_of_position(circuit, names);
    if (name == "limited ends") return ends_of(circuit, only_part(circuit, is_limited));
    if (name == "every") return positions_on(circuit, control_of(circuit, names.load), {});
    if (name == "lower") return lower_positions(circuit, control_of(circuit, names.load));
    if (const auto word = rest_of(name, "fuses ")) return all_of(circuit, is_fuse, "fuse @ " + std::string(*word));
    if (const auto word = rest_of(name, "new fuses "))
        return all_of(circuit, is_fuse, "new @ fuse @ " + std::string(*word));
    if (const auto word = rest_of(name, "loads ")) return all_of(circuit, is_load, "@ " + std::string(*word));
    if (const auto word = rest_of(name, "motors ")) return all_of(circuit, is_motor, "@ " + std::string(*word));
    if (const auto word = rest_of(name, "lamps ")) return all_of(circuit, is_lamp, "@ " + std::string(*word));
    if (const auto end = rest_of(name, "wire ")) return of_wire(circuit, names.text, *end);
    if (name == "grounds across") return all_of(circuit, is_ground, "across @");
    if (const auto which = rest_of(name, "fuse")) return of_fuse(circuit, names.part, *which);
    if (const auto which = rest_of(name, "load")) return of_load(circuit, names.part, *which);
    if (const auto which = rest_of(name, "it")) return of_load(circuit, names.load, *which);
    if (const auto which = rest_of(name, "two")) return of_two(circuit, names.part, *which);
    if (const auto which = rest_of(name, "relay")) return of_relay(circuit, names.part, *which);
    if (const auto end = rest_of(name, "battery")) return circuit.part(circuit.battery).name + std::string(*end);
    return names.part.valid() ? Name(circuit.part(names.part).name) : std::nullopt;
}

}  // namespace voltfall
