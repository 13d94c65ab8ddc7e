#include "netlists/graph/poles.hpp"

#include <algorithm>
#include <string_view>
#include <variant>

#include "netlists/parts/kind.hpp"

namespace voltfall {

namespace {

/// A resistance that a person added and that is no lead: a bulb or coil as a load.
constexpr double added_load_ohms = 1.0;

bool has(Pole pole, Pole wanted) {
    return pole == wanted || pole == Pole::both;
}

Pole joined(Pole a, Pole b) {
    if (a == Pole::none || a == b) return b;
    return b == Pole::none ? a : Pole::both;
}

Carrier owned_carrier(const Circuit& circuit, const Branch& branch, BranchId id) {
    if (!branch.part.valid()) return Carrier::metal;
    const Part& part = circuit.part(branch.part);
    if (part.load_branch == id) {
        return part.kind && part.kind->load == LoadKind::heater ? Carrier::heater : Carrier::load;
    }
    if (part.relay && part.relay->coil == id) return Carrier::load;
    const bool is_resistor = branch.sort == BranchSort::suppression || branch.sort == BranchSort::pack_coil ||
                             branch.sort == BranchSort::signal;
    return is_resistor ? Carrier::resistor : Carrier::metal;
}

Carrier carrier_of(const Network& network, std::size_t index) {
    const Law& law = network.branches[index].law;
    if (sort_of(law) == LawSort::source) return Carrier::source;
    if (sort_of(law) == LawSort::motor) return Carrier::load;
    const Circuit& circuit = *network.circuit;
    if (index < circuit.branches.size()) {
        return owned_carrier(circuit, circuit.branches[index], {static_cast<std::uint32_t>(index)});
    }
    const auto* resistor = std::get_if<Resistor>(&law);
    return resistor && resistor->ohms > added_load_ohms ? Carrier::load : Carrier::metal;
}

bool carries(Carrier carrier, Through through) {
    return static_cast<int>(carrier) <= static_cast<int>(through);
}

}  // namespace

std::vector<Carrier> carriers(const Network& network) {
    std::vector<Carrier> found;
    found.reserve(network.branches.size());
    for (std::size_t i = 0; i < network.branches.size(); ++i) found.push_back(carrier_of(network, i));
    return found;
}

bool across_supply(Pole a, Pole b) {
    return (has(a, Pole::plus) && has(b, Pole::minus)) || (has(a, Pole::minus) && has(b, Pole::plus));
}

Reach::Reach(const Network& network) : network_(network), carriers_(carriers(network)) {
    first_tie_.assign(network.joints + 1, 0);
    for (const NetworkBranch& branch : network.branches) {
        ++first_tie_[branch.a.index + 1];
        ++first_tie_[branch.b.index + 1];
    }
    for (std::size_t i = 1; i < first_tie_.size(); ++i) first_tie_[i] += first_tie_[i - 1];
    ties_.resize(first_tie_.back());
    std::vector<std::uint32_t> next(first_tie_.begin(), first_tie_.end() - 1);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        ties_[next[branch.a.index]++] = {i, branch.b.index, true};
        ties_[next[branch.b.index]++] = {i, branch.a.index, false};
    }
    find_supply();
}

template <class Visit>
void Reach::each_tie(std::uint32_t joint, Visit visit) const {
    for (std::uint32_t i = first_tie_[joint]; i < first_tie_[joint + 1]; ++i) visit(ties_[i]);
}

bool Reach::walks(const Tie& tie, Side side, Through through) const {
    const BranchId id{tie.branch};
    if (!network_.conducts(id) || !carries(carriers_[tie.branch], through)) return false;
    if (sort_of(network_.at(id).law) != LawSort::one_way) return true;
    // Current leaves plus from A to K, so minus is met walking from K to A.
    return (side == Side::plus) == tie.from_first;
}

/// Extends one pole to joints that had none `before` this level.
void Reach::spread(std::vector<Pole>& poles, Side side, Through through, BranchId except,
                   const std::vector<Pole>& before) const {
    const Pole own = side == Side::plus ? Pole::plus : Pole::minus;
    std::vector<std::uint32_t> waiting;
    for (std::uint32_t i = 0; i < before.size(); ++i) {
        if (has(before[i], own)) waiting.push_back(i);
    }
    while (!waiting.empty()) {
        const std::uint32_t joint = waiting.back();
        waiting.pop_back();
        each_tie(joint, [&](const Tie& tie) {
            if (tie.branch == except.index || !walks(tie, side, through)) return;
            if (has(poles[tie.joint], own)) return;
            // An end of the battery is marked but not walked past: a dead short must not colour everything.
            const bool settled_before = before[tie.joint] != Pole::none;
            if (settled_before && through != Through::metal) return;
            poles[tie.joint] = joined(poles[tie.joint], own);
            if (!settled_before) waiting.push_back(tie.joint);
        });
    }
}

std::vector<Pole> Reach::poles(Through through, BranchId except) const {
    std::vector<Pole> found(network_.joints, Pole::none);
    for (const JointId joint : supply_) found[joint.index] = Pole::plus;
    found[network_.circuit->reference.index] = Pole::minus;
    for (int level = 0; level <= static_cast<int>(through); ++level) {
        const std::vector<Pole> before = found;
        spread(found, Side::plus, static_cast<Through>(level), except, before);
        spread(found, Side::minus, static_cast<Through>(level), except, before);
    }
    return found;
}

void Reach::find_supply() {
    const Circuit& circuit = *network_.circuit;
    std::vector<bool> tied(network_.joints, false);
    const auto tie_metal = [&](JointId start) {
        std::vector<std::uint32_t> waiting{start.index};
        tied[start.index] = true;
        while (!waiting.empty()) {
            const std::uint32_t joint = waiting.back();
            waiting.pop_back();
            each_tie(joint, [&](const Tie& tie) {
                if (tied[tie.joint] || !walks(tie, Side::plus, Through::metal)) return;
                tied[tie.joint] = true;
                waiting.push_back(tie.joint);
            });
        }
    };
    tie_metal(circuit.reference);
    // A battery whose minus is tied to metal or to the plus of one already found adds its plus.
    std::vector<bool> used(network_.branches.size(), false);
    for (bool more = true; more;) {
        more = false;
        for (std::size_t i = 0; i < network_.branches.size(); ++i) {
            const NetworkBranch& branch = network_.branches[i];
            if (used[i] || branch.open || carriers_[i] != Carrier::source || !tied[branch.b.index]) continue;
            used[i] = true;
            more = true;
            supply_.push_back(branch.a);
            if (!tied[branch.a.index]) tie_metal(branch.a);
        }
    }
}

std::vector<int> Reach::steps_from_supply() const {
    std::vector<int> steps(network_.joints, -1);
    std::vector<std::uint32_t> waiting;
    for (const JointId joint : supply_) {
        if (steps[joint.index] >= 0) continue;
        steps[joint.index] = 0;
        waiting.push_back(joint.index);
    }
    for (std::size_t next = 0; next < waiting.size(); ++next) {
        const std::uint32_t joint = waiting[next];
        if (joint == network_.circuit->reference.index) continue;
        each_tie(joint, [&](const Tie& tie) {
            if (steps[tie.joint] >= 0 || !walks(tie, Side::plus, Through::metal)) return;
            steps[tie.joint] = steps[joint] + 1;
            waiting.push_back(tie.joint);
        });
    }
    return steps;
}

std::vector<BranchId> Reach::metal_from(JointId start, const std::vector<bool>& stop,
                                        const std::vector<bool>& blocked) const {
    std::vector<BranchId> walked;
    std::vector<bool> seen(network_.joints, false);
    std::vector<std::uint32_t> waiting{start.index};
    seen[start.index] = true;
    while (!waiting.empty()) {
        const std::uint32_t joint = waiting.back();
        waiting.pop_back();
        if (stop[joint]) continue;
        each_tie(joint, [&](const Tie& tie) {
            if (blocked[tie.branch] || !walks(tie, Side::plus, Through::metal)) return;
            walked.push_back({tie.branch});
            if (seen[tie.joint]) return;
            seen[tie.joint] = true;
            waiting.push_back(tie.joint);
        });
    }
    return walked;
}

}  // namespace voltfall
