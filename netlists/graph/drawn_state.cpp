#include "netlists/graph/drawn_state.hpp"

#include <algorithm>

#include "netlists/graph/poles.hpp"

namespace voltfall {

namespace {

/// Coils that are fed or grounded through another load need a walk of their own: branches walked for them in a round.
constexpr std::size_t most_deep_work = 200'000;

void set_contact(Network& network, BranchId branch, bool closed) {
    if (!branch.valid() || network.at(branch).held) return;
    if (auto* contact = std::get_if<Contact>(&network.at(branch).law)) contact->closed = closed;
}

bool lists(const Position& position, const std::string& contact) {
    return std::find(position.contacts.begin(), position.contacts.end(), contact) != position.contacts.end();
}

/// Which relays pull with the contacts as they stand.
std::vector<bool> pulling(const Network& network, const Reach& reach) {
    const Circuit& circuit = *network.circuit;
    std::vector<bool> pulled(circuit.parts.size(), false);
    const std::vector<Pole> near = reach.poles(Through::heaters);
    std::size_t deep_work = 0;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        const auto& relay = circuit.parts[i].relay;
        if (!relay || !relay->coil.valid() || !network.conducts(relay->coil)) continue;
        const NetworkBranch& coil = network.at(relay->coil);
        const Pole a = near[coil.a.index];
        const Pole b = near[coil.b.index];
        if (a != Pole::none && b != Pole::none) {
            pulled[i] = across_supply(a, b);
        } else if ((a != Pole::none || b != Pole::none) && deep_work < most_deep_work) {
            deep_work += network.branches.size();
            const std::vector<Pole> far = reach.poles(Through::loads, relay->coil);
            pulled[i] = across_supply(far[coil.a.index], far[coil.b.index]);
        }
    }
    return pulled;
}

}  // namespace

std::size_t off_position(const Part& part) {
    if (const auto off = part.position_named("off")) return *off;
    return part.rest_position;
}

void set_position(Network& network, PartId id, std::size_t position) {
    const Part& part = network.circuit->part(id);
    if (position >= part.positions.size()) return;
    for (const auto& [terminal, branch] : part.contacts) {
        set_contact(network, branch, lists(part.positions[position], terminal));
    }
}

void set_key(Network& network, std::string_view word) {
    const Circuit& circuit = *network.circuit;
    if (!circuit.key.valid()) {
        set_contact(network, circuit.implied_key, word == "on" || word == "run" || word == "start");
        return;
    }
    const Part& key = circuit.part(circuit.key);
    auto position = key.position_named(word);
    if (!position && word == "run") position = key.position_named("on");
    if (!position && word == "on") position = key.position_named("run");
    if (position) set_position(network, circuit.key, *position);
}

DrawnRelays set_relays(Network& network) {
    const Circuit& circuit = *network.circuit;
    DrawnRelays relays{std::vector<bool>(circuit.parts.size(), false), true};
    std::size_t count = 0;
    for (const Part& part : circuit.parts) count += part.relay.has_value();
    if (count == 0) return relays;

    const Reach reach(network);
    const auto move = [&] {
        for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
            const auto& relay = circuit.parts[i].relay;
            if (!relay) continue;
            set_contact(network, relay->normally_open, relays.pulled[i]);
            set_contact(network, relay->normally_closed, !relays.pulled[i]);
        }
    };
    move();
    // A chain of relays that feed each other settles within as many rounds as there are relays.
    for (std::size_t round = 0; round < count + 2; ++round) {
        std::vector<bool> now = pulling(network, reach);
        if (now == relays.pulled) return relays;
        relays.pulled = std::move(now);
        move();
    }
    relays.settled = false;
    return relays;
}

Network network_at_rest(const Circuit& circuit) {
    Network network(circuit);
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!part.contacts.empty() && PartId{i} != circuit.key) set_position(network, {i}, off_position(part));
    }
    set_key(network, "on");
    set_relays(network);
    return network;
}

}  // namespace voltfall
