#include "engine/readings/in_hand.hpp"

#include <algorithm>

#include "engine/readings/probes.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

void add(std::vector<InHand>& list, const Part& part, const std::string& from, const std::string& to) {
    list.push_back({part.pins.at(from), part.pins.at(to), std::nullopt, {}});
}

void add_relay(std::vector<InHand>& list, const Circuit& circuit, const RelayAction& relay) {
    const Branch& coil = circuit.branch(relay.coil);
    list.push_back({coil.a, coil.b, std::nullopt, {}});
    for (const BranchId id : {relay.normally_closed, relay.normally_open}) {
        if (!id.valid()) continue;
        const Branch& contact = circuit.branch(id);
        list.push_back({contact.a, contact.b, std::nullopt, id, id == relay.normally_open});
    }
}

/// Each contact in the first position that closes it, and in the first that opens it; what stands by pressure or heat,
/// at rest.
void add_contacts(std::vector<InHand>& list, const Circuit& circuit, const Part& part) {
    const bool is_set = has_duty(part, Duty::control);
    for (const auto& [name, id] : part.contacts) {
        const auto closes = [&, contact = name](const Position& position) {
            return std::find(position.contacts.begin(), position.contacts.end(), contact) != position.contacts.end();
        };
        for (const bool open : {false, true}) {
            const auto found = std::find_if(part.positions.begin(), part.positions.end(),
                                            [&](const Position& position) { return closes(position) != open; });
            if (found == part.positions.end()) continue;
            const auto position = static_cast<std::size_t>(found - part.positions.begin());
            if (!is_set && position != part.rest_position) continue;
            const Branch& contact = circuit.branch(id);
            list.push_back({contact.a, contact.b, is_set ? std::optional(position) : std::nullopt, id, open});
        }
    }
}

bool is_out(const Circuit& circuit, const State& state, PartId id) {
    const Part& part = circuit.part(id);
    if (std::find(state.pulled.begin(), state.pulled.end(), id) != state.pulled.end()) return true;
    return std::any_of(state.unplugged.begin(), state.unplugged.end(), [&](const std::string& name) {
        return same_word(name, part.name) || (!part.plug.empty() && same_word(name, part.plug));
    });
}

bool is_pin_of(const Part& part, JointId joint) {
    return std::any_of(part.pins.begin(), part.pins.end(), [&](const auto& pin) { return pin.second == joint; });
}

}  // namespace

bool is_pulled_out(const Part& part) {
    return part.relay.has_value();
}

std::vector<InHand> measured_in_hand(const Circuit& circuit, PartId id) {
    const Part& part = circuit.part(id);
    std::vector<InHand> list;
    const bool comes_out = is_pulled_out(part) || (!part.plug.empty() && !is_closed(circuit, part.plug));
    // A key's lock is measured at its plug, not in the hand.
    if (!comes_out || is_closed(circuit, part.name) || part.electronics || has_duty(part, Duty::key)) return list;
    if (part.relay) {
        add_relay(list, circuit, *part.relay);
    } else if (!part.coils.empty()) {
        for (const Coil& coil : part.coils) add(list, part, coil.from, part.coils.back().to);
    } else if (!part.contacts.empty()) {
        add_contacts(list, circuit, part);
    } else if (part.pins.size() == 2) {
        add(list, part, part.pins.begin()->first, part.pins.rbegin()->first);
    }
    return list;
}

std::optional<PartId> held_in_hand(const Circuit& circuit, const State& state, JointId red, JointId black) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        if (is_pin_of(circuit.parts[i], red) && is_pin_of(circuit.parts[i], black) && is_out(circuit, state, {i}))
            return PartId{i};
    }
    return std::nullopt;
}

PartId part_in_hand(const Circuit& circuit, BranchId id) {
    const Branch& branch = circuit.branch(id);
    if (!branch.part.valid() || branch.sort == BranchSort::socket) return {};
    const bool is_contact = branch.sort == BranchSort::contact;
    for (const InHand& pins : measured_in_hand(circuit, branch.part)) {
        if (pins.rests_open) continue;
        if (is_contact ? pins.contact == id : !pins.contact.valid()) return branch.part;
    }
    return {};
}

}  // namespace voltfall
