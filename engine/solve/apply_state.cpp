// What a state does to the branches.
#include <algorithm>
#include <string_view>
#include <variant>

#include "engine/solve/state.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

void set_contact(Network& network, BranchId id, bool closed) {
    NetworkBranch& branch = network.at(id);
    if (branch.held) return;
    if (auto* contact = std::get_if<Contact>(&branch.law)) contact->closed = closed;
}

bool is_key(const Circuit& circuit, std::size_t part) {
    if (circuit.key.valid() && circuit.key.index == part) return true;
    return has_duty(circuit.parts[part], Duty::key);
}

void set_position(Network& network, const Part& part, std::optional<std::size_t> position) {
    static const std::vector<std::string> nothing;
    const bool known = position && *position < part.positions.size();
    const std::vector<std::string>& closes = known ? part.positions[*position].contacts : nothing;
    for (const auto& [name, branch] : part.contacts) {
        set_contact(network, branch, std::find(closes.begin(), closes.end(), name) != closes.end());
    }
}

}  // namespace

BatteryState battery_state(KeyPosition key) {
    switch (key) {
        case KeyPosition::run:
            return BatteryState::charging;
        case KeyPosition::start:
            return BatteryState::cranking;
        case KeyPosition::off:
        case KeyPosition::acc:
        case KeyPosition::on:
            return BatteryState::resting;
    }
    return BatteryState::resting;
}

std::optional<std::size_t> drawn_key_position(const Part& part, KeyPosition key) {
    const auto named = [&](std::string_view word, std::string_view otherwise) {
        const auto found = part.position_named(word);
        return found ? found : part.position_named(otherwise);
    };
    switch (key) {
        case KeyPosition::off:
            return part.position_named("off");
        case KeyPosition::acc:
            return named("acc", "off");
        case KeyPosition::on:
            return named("on", "run");
        case KeyPosition::run:
            return named("run", "on");
        case KeyPosition::start:
            return named("start", "on");
    }
    return std::nullopt;
}

namespace {

void apply_key(Network& network, KeyPosition key) {
    const Circuit& circuit = *network.circuit;
    network.battery = battery_state(key);
    const bool feeds_15 = key == KeyPosition::on || key == KeyPosition::run || key == KeyPosition::start;
    if (circuit.implied_key.valid()) set_contact(network, circuit.implied_key, feeds_15);
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (!is_key(circuit, i)) continue;
        const Part& part = circuit.parts[i];
        const int held = network.held_positions[i];
        set_position(network, part, held >= 0 ? static_cast<std::size_t>(held) : drawn_key_position(part, key));
    }
}

void apply_positions(Network& network, const State& state) {
    const Circuit& circuit = *network.circuit;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (part.contacts.empty() || part.positions.empty() || is_key(circuit, i)) continue;
        const int held = network.held_positions[i];
        const std::size_t said = i < state.positions.size() ? state.positions[i] : part.rest_position;
        set_position(network, part, held >= 0 ? static_cast<std::size_t>(held) : said);
    }
}

bool is_socket(const Branch& branch) {
    return branch.sort == BranchSort::socket;
}

/// A pulled part leaves its socket behind.
void pull(Network& network, PartId part) {
    for (const BranchId id : network.circuit->part(part).branches) {
        if (!is_socket(network.circuit->branch(id))) network.at(id).open = true;
    }
}

bool open_sockets(Network& network, const Part& part) {
    bool any = false;
    for (const BranchId id : part.branches) {
        if (!is_socket(network.circuit->branch(id))) continue;
        network.at(id).open = true;
        any = true;
    }
    return any;
}

/// `name` itself or one of its cavities: "C303" and "C303.4".
bool is_place_of(std::string_view place, std::string_view name) {
    return same_word(place, name) || is_cavity_of(place, name);
}

void unplug(Network& network, const std::string& name) {
    const Circuit& circuit = *network.circuit;
    if (const PartId part = circuit.find_part(name); part.valid()) {
        if (open_sockets(network, circuit.part(part))) return;
        for (const BranchId id : circuit.part(part).branches) network.at(id).open = true;
        return;
    }
    for (std::size_t i = 0; i < circuit.branches.size(); ++i) {
        if (!circuit.branches[i].wire.valid() && is_place_of(circuit.branches[i].place, name)) {
            network.branches[i].open = true;
        }
    }
}

double filament_ohms(const Circuit& circuit, double watts) {
    const double volts = default_value(row_at("lamp_rated_volts", circuit.supply));
    return volts * volts / (watts > 0 ? watts : default_value("test_lamp_watts"));
}

/// A bulb across the fuse's clips; the fuse is out.
void put_lamp_in(Network& network, PartId part) {
    const Part& fuse = network.circuit->part(part);
    pull(network, part);
    const NetworkBranch& out = network.at(fuse.fuse.value().element);
    network.connect(out.a, out.b, Resistor{filament_ohms(*network.circuit, 0)});
}

void put_lead(Network& network, const AddedLead& lead) {
    const Circuit& circuit = *network.circuit;
    JointId from = lead.a;
    JointId to = lead.b.valid() ? lead.b : circuit.reference;
    double ohms = lead_ohms;
    switch (lead.kind) {
        case AddedLead::Kind::jumper:
            break;
        case AddedLead::Kind::feed:
            from = circuit.bus_30;
            to = lead.a;
            break;
        case AddedLead::Kind::load:
            ohms = filament_ohms(circuit, lead.watts);
            break;
    }
    network.connect(from, to, Resistor{ohms});
}

void override_supply(Network& network, double volts) {
    const Circuit& circuit = *network.circuit;
    for (const BranchId id : circuit.part(circuit.battery).branches) {
        auto* source = std::get_if<Source>(&network.at(id).law);
        if (!source) continue;
        source->volts = volts;
        source->charging_volts = volts;
    }
}

}  // namespace

void apply_controls(Network& network, const State& state) {
    apply_key(network, state.key);
    apply_positions(network, state);
}

void apply_state(Network& network, const State& state) {
    apply_controls(network, state);
    for (const std::string& name : state.unplugged) unplug(network, name);
    for (const PartId part : state.pulled) pull(network, part);
    for (const PartId part : state.lamp_in) put_lamp_in(network, part);
    for (const AddedLead& lead : state.leads) put_lead(network, lead);
    if (state.supply_volts) override_supply(network, *state.supply_volts);
}

}  // namespace voltfall
