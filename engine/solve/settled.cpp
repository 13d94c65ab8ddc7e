#include "engine/solve/settled.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <variant>

#include "engine/solve/connections.hpp"
#include "engine/solve/electronics_in_play.hpp"
#include "engine/solve/unsound_case.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// Rounds after which a relay that still moves is said to chatter.
constexpr int most_settling_rounds = 8;
/// Pull, let go, pull, let go: it will not end.
constexpr int most_flips = 4;

struct RelayInPlay {
    PartId part;
    const RelayAction* action;
    int flips{0};
    bool frozen{false};
};

struct MotorInPlay {
    std::size_t branch;
    bool has_current_path{false};
    int flips{0};
};

enum class Relays { dropped, pulled };

/// Moves relays and motors around the operating point until nothing changes.
class Settling {
public:
    /// `connections` must outlive this object.
    Settling(Network network, Relays start, Connections& connections)
        : settled_{std::move(network), {}, {}, {}, {}, {}, {}}, connections_(&connections) {
        const Circuit& circuit = *settled_.network.circuit;
        settled_.relay_pulled.assign(circuit.parts.size(), false);
        for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
            if (circuit.parts[i].relay) relays_.push_back({{static_cast<std::uint32_t>(i)}, &*circuit.parts[i].relay});
        }
        for (std::size_t i = 0; i < settled_.network.branches.size(); ++i) {
            if (sort_of(settled_.network.branches[i].law) == LawSort::motor) motors_.push_back({i});
        }
        electronics_.begin(settled_.network);
        for (const RelayInPlay& relay : relays_) set_relay(relay.part, *relay.action, start == Relays::pulled);
        if (!motors_.empty()) place_motors();
    }
    const Network& network() const { return settled_.network; }
    /// Takes a solution of the network; true when nothing moves any more.
    bool take(OperatingPoint point) {
        settled_.point = std::move(point);
        if (move_relays(round_ + 1) || move_motors(round_ + 1)) {
            ++round_;
            return false;
        }
        if (!electronics_.move(settled_.network, settled_.point)) return true;
        if (!motors_.empty()) follow_contacts();
        return false;
    }
    Settled result() { return std::move(settled_); }

private:
    NetworkBranch& branch(std::size_t index) { return settled_.network.branches[index]; }

    void set_contact(BranchId id, bool closed) {
        if (!id.valid() || settled_.network.at(id).held) return;
        if (auto* contact = std::get_if<Contact>(&settled_.network.at(id).law)) contact->closed = closed;
    }

    void set_relay(PartId part, const RelayAction& action, bool pulled) {
        settled_.relay_pulled[part.index] = pulled;
        set_contact(action.normally_open, pulled);
        set_contact(action.normally_closed, !pulled);
    }

    /// First guess of the motors: forward where a current finds a way round from one end to the other, else standing.
    void place_motors() {
        std::vector<std::size_t> branches;
        for (const MotorInPlay& motor : motors_) branches.push_back(motor.branch);
        const std::vector<bool>& can_turn = connections_->look_at(settled_.network).motors_with_way(branches);
        for (std::size_t i = 0; i < motors_.size(); ++i) {
            motors_[i].has_current_path = can_turn[i];
            branch(motors_[i].branch).turning = can_turn[i] ? Turning::forward : Turning::standing;
        }
    }

    /// What the coil's current would make of the relay.
    bool wants_pulled(const RelayInPlay& relay) const {
        const double volts = std::abs(settled_.point.amps[relay.action->coil.index]) * relay.action->healthy_coil_ohms;
        const bool pulled = settled_.relay_pulled[relay.part.index];
        return volts >= (pulled ? relay.action->drop_out_volts : relay.action->pull_in_volts);
    }

    void give_up(RelayInPlay& relay) {
        relay.frozen = true;
        settled_.chattering.push_back(relay.part);
        set_relay(relay.part, *relay.action, false);
    }

    bool move_relays(int round) {
        // Where relays fight (each breaks the other's coil), the first one wins: one moves at a time.
        const bool fight =
            std::any_of(relays_.begin(), relays_.end(), [](const RelayInPlay& r) { return r.flips >= 2; });
        bool changed = false;
        for (RelayInPlay& relay : relays_) {
            if (relay.frozen || wants_pulled(relay) == settled_.relay_pulled[relay.part.index]) continue;
            changed = true;
            if (++relay.flips > most_flips || round > most_settling_rounds) {
                give_up(relay);
            } else {
                set_relay(relay.part, *relay.action, !settled_.relay_pulled[relay.part.index]);
            }
            if (fight) break;
        }
        if (changed && !motors_.empty()) follow_contacts();
        return changed;
    }

    /// A contact has moved: a motor that had no current path may have one now, and the other way round.
    void follow_contacts() {
        std::vector<std::pair<bool, Turning>> before;
        for (const MotorInPlay& motor : motors_)
            before.emplace_back(motor.has_current_path, branch(motor.branch).turning);
        place_motors();
        for (std::size_t i = 0; i < motors_.size(); ++i) {
            if (before[i].first && motors_[i].has_current_path) branch(motors_[i].branch).turning = before[i].second;
        }
    }

    bool move_motors(int round) {
        bool changed = false;
        for (MotorInPlay& motor : motors_) {
            NetworkBranch& at = branch(motor.branch);
            const Motor& law = std::get<Motor>(at.law);
            if (law.rotor == Rotor::seized || motor.flips >= most_flips || round > 2 * most_settling_rounds) continue;
            const Turning next = next_turning(at, law, motor.branch);
            if (next == at.turning) continue;
            at.turning = next;
            ++motor.flips;
            changed = true;
        }
        return changed;
    }

    /// A rotor whose friction would drive it backwards stands; a standing one starts when its torque beats its
    /// friction.
    Turning next_turning(const NetworkBranch& at, const Motor& law, std::size_t index) const {
        const double speed = settled_.point.speed[index];
        const double torque = law.constant * settled_.point.amps[index];
        switch (at.turning) {
            case Turning::forward:
                return speed < 0 ? Turning::standing : Turning::forward;
            case Turning::backward:
                return speed > 0 ? Turning::standing : Turning::backward;
            case Turning::standing:
                if (std::abs(torque) <= law.friction_torque) return Turning::standing;
                return torque > 0 ? Turning::forward : Turning::backward;
        }
        return at.turning;
    }

    Settled settled_;
    Connections* connections_;
    std::vector<RelayInPlay> relays_;
    std::vector<MotorInPlay> motors_;
    ElectronicsInPlay electronics_;
    int round_{0};
};

/// Solves the settlings together, round after round, until each has come to rest.
std::vector<SettleResult> run_together(Simulator& simulator, std::vector<Settling>& settlings) {
    std::vector<SettleResult> results(settlings.size(), tl::unexpected(SolveFailure{}));
    std::vector<std::size_t> moving(settlings.size());
    std::iota(moving.begin(), moving.end(), std::size_t{0});
    while (!moving.empty()) {
        std::vector<const Network*> networks;
        for (const std::size_t i : moving) networks.push_back(&settlings[i].network());
        std::vector<SolveResult> solved(networks.size());
        simulator.solve_all(networks, solved);
        std::vector<std::size_t> still_moving;
        for (std::size_t k = 0; k < moving.size(); ++k) {
            if (!solved[k]) {
                results[moving[k]] = tl::unexpected(solved[k].error());
            } else if (settlings[moving[k]].take(*std::move(solved[k]))) {
                results[moving[k]] = settlings[moving[k]].result();
            } else {
                still_moving.push_back(moving[k]);
            }
        }
        moving = std::move(still_moving);
    }
    return results;
}

SettleResult run_one(Simulator& simulator, Settling settling) {
    for (;;) {
        SolveResult solved = simulator.solve(settling.network());
        if (!solved) return tl::unexpected(solved.error());
        if (settling.take(*std::move(solved))) return settling.result();
    }
}

void demand_balance(const Settled& settled, const Nodes& nodes) {
    const Balance balance = check_balance(settled.network, settled.point, nodes, Shunts::idle);
    if (balance.holds()) return;
    throw UnsoundCase(
        fmt::format("a solution breaks the current law ({:.2g}), the power balance ({:.2g}) or a source's law ({:.2g})",
                    balance.current, balance.power, balance.volts),
        describe_case(settled.network, settled.point, {}));
}

/// Diodes that block count as open.
std::optional<Network> without_blocked_diodes(const Settled& settled) {
    static const double blocked = default_value("blocked_diode_amps");
    std::optional<Network> without;
    for (std::size_t i = 0; i < settled.network.branches.size(); ++i) {
        const NetworkBranch& branch = settled.network.branches[i];
        if (branch.open || sort_of(branch.law) != LawSort::one_way) continue;
        if (!(std::abs(settled.point.amps[i]) < blocked)) continue;
        if (!without) without = settled.network;
        without->branches[i].open = true;
    }
    return without;
}

/// Joints reached only through a blocked diode read what a meter's own 10 Mohm leaves: one meter an island.
std::optional<SolveFailure> read_weak_joints(Simulator& simulator, Settled& settled) {
    const std::optional<Network> blocked = without_blocked_diodes(settled);
    if (!blocked) return std::nullopt;
    for (const JointId joint : floating_joints(*blocked)) {
        if (!settled.floats(joint)) settled.weak.push_back(joint);
    }
    if (settled.weak.empty()) return std::nullopt;
    const std::vector<int> island = islands(*blocked);
    std::vector<int> metered;
    Network with_meter = settled.network;
    for (const JointId joint : settled.weak) {
        if (std::find(metered.begin(), metered.end(), island[joint.index]) != metered.end()) continue;
        metered.push_back(island[joint.index]);
        with_meter.connect(joint, settled.network.circuit->reference, Resistor{default_value("meter_ohm")});
    }
    const SolveResult solved = simulator.solve(with_meter);
    if (!solved) return solved.error();
    for (const JointId joint : settled.weak) settled.point.volts[joint.index] = solved->volts[joint.index];
    return std::nullopt;
}

/// Relays that stay pulled once pulled, though they do not pull by themselves.
std::vector<PartId> holding_relays(Simulator& simulator, const Network& network, const Settled& settled) {
    std::vector<PartId> holding;
    Connections connections;
    const SettleResult other = run_one(simulator, Settling(network, Relays::pulled, connections));
    if (!other) return holding;
    for (std::size_t i = 0; i < settled.relay_pulled.size(); ++i) {
        const PartId part{static_cast<std::uint32_t>(i)};
        const bool buzzes =
            std::find(settled.chattering.begin(), settled.chattering.end(), part) != settled.chattering.end();
        if (other->relay_pulled[i] && !settled.relay_pulled[i] && !buzzes) holding.push_back(part);
    }
    return holding;
}

/// " at hi with C101.4 resistance 0.3ohm", for the report of a bug.
std::string case_words(const Circuit& circuit, const State& state, std::span<const Fault> faults) {
    std::string words = " at " + state.label;
    for (const Fault& fault : faults) words += " with " + write_fault(circuit, fault);
    if (state.supply_volts) words += " on " + write_measure(*state.supply_volts, Unit::volt);
    return words;
}

bool has_relay(const Circuit& circuit) {
    return std::any_of(circuit.parts.begin(), circuit.parts.end(),
                       [](const Part& part) { return part.relay.has_value(); });
}

}  // namespace

bool Settled::floats(JointId joint) const {
    return std::find(floating.begin(), floating.end(), joint) != floating.end();
}

namespace {

/// What is looked at once a case has come to rest.
SettleResult finish(Simulator& simulator, SettleResult settled, Connections& connections) {
    if (!settled) return settled;
    connections.look_at(settled->network);
    demand_balance(*settled, connections.nodes());
    settled->floating = connections.floating();
    if (auto failure = read_weak_joints(simulator, *settled)) return tl::unexpected(*failure);
    return settled;
}

/// `network` is the bare circuit's.
Network network_of(Network network, const SettleCase& of) {
    apply_faults(network, of.faults, *of.state);
    apply_state(network, *of.state);
    const Circuit& circuit = *network.circuit;
    for (const PartId part : of.opened) {
        const auto& renewed = of.state->fitted_new;
        const bool is_new = std::find(renewed.begin(), renewed.end(), part) != renewed.end();
        if (!is_new && circuit.part(part).fuse) network.at(circuit.part(part).fuse->element).open = true;
    }
    return network;
}

/// Runs `work`; a bug that it reports is told with its case.
template <class Work>
auto with_case_words(const Circuit& circuit, const SettleCase& of, Work&& work) {
    try {
        return work();
    } catch (const UnsoundCase& bug) {
        throw UnsoundCase(bug, case_words(circuit, *of.state, of.faults));
    }
}

}  // namespace

SettleResult settle_network(Simulator& simulator, const Network& network, SecondAnswer second) {
    Connections connections;
    SettleResult settled =
        finish(simulator, run_one(simulator, Settling(network, Relays::dropped, connections)), connections);
    if (settled && second == SecondAnswer::look_for && has_relay(*network.circuit)) {
        settled->holding = holding_relays(simulator, network, *settled);
    }
    return settled;
}

SettleResult settle(Simulator& simulator, const Circuit& circuit, const State& state, std::span<const Fault> faults,
                    std::span<const PartId> opened, SecondAnswer second) {
    const SettleCase of{&state, faults, opened};
    return with_case_words(circuit, of,
                           [&] { return settle_network(simulator, network_of(Network(circuit), of), second); });
}

std::vector<SettleResult> settle_all(Simulator& simulator, const Circuit& circuit, std::span<const SettleCase> cases) {
    const Network bare(circuit);
    Connections unsettled;
    std::vector<Settling> settlings;
    settlings.reserve(cases.size());
    for (const SettleCase& of : cases) settlings.emplace_back(network_of(bare, of), Relays::dropped, unsettled);
    std::vector<SettleResult> results = run_together(simulator, settlings);
    Connections settled;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        results[i] =
            with_case_words(circuit, cases[i], [&] { return finish(simulator, std::move(results[i]), settled); });
    }
    return results;
}

void confirm(Simulator& simulator, const Settled& settled) {
    std::vector<JointId> metered = settled.floating;
    metered.insert(metered.end(), settled.weak.begin(), settled.weak.end());
    simulator.confirm(settled.network, settled.point, metered);
}

SettleResult settle(Simulator& simulator, const Circuit& circuit, const State& state, std::span<const Fault> faults) {
    return settle(simulator, circuit, state, faults, {});
}

}  // namespace voltfall
