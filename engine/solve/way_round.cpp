#include "engine/solve/way_round.hpp"

#include <map>
#include <numeric>
#include <variant>

namespace voltfall {

namespace {

/// Disjoint sets of joints, over numbers that are kept from call to call.
class Ties {
public:
    explicit Ties(std::size_t joints) : parent_(store()) {
        parent_.resize(joints);
        std::iota(parent_.begin(), parent_.end(), 0U);
    }
    std::uint32_t set_of(std::uint32_t joint) {
        while (parent_[joint] != joint) joint = parent_[joint] = parent_[parent_[joint]];
        return joint;
    }
    void tie(const NetworkBranch& branch) { parent_[set_of(branch.a.index)] = set_of(branch.b.index); }
    bool tied(const NetworkBranch& branch) { return set_of(branch.a.index) == set_of(branch.b.index); }

private:
    static std::vector<std::uint32_t>& store() {
        thread_local std::vector<std::uint32_t> numbers;
        return numbers;
    }
    std::vector<std::uint32_t>& parent_;
};

/// Between which sets of joints a motor stands.
struct MotorEnds {
    std::size_t branch;
    std::uint32_t a;
    std::uint32_t b;
};

bool is_free(const NetworkBranch& motor) {
    return std::get<Motor>(motor.law).rotor == Rotor::free && !motor.open;
}

/// Do the other motors tie the ends of this one? `sets` of joints, numbered from 0.
bool others_tie(std::span<const MotorEnds> edges, const MotorEnds& motor, std::size_t sets) {
    std::vector<std::uint32_t> parent(sets);
    std::iota(parent.begin(), parent.end(), 0U);
    const auto root = [&](std::uint32_t set) {
        while (parent[set] != set) set = parent[set] = parent[parent[set]];
        return set;
    };
    for (const MotorEnds& edge : edges) {
        if (edge.branch != motor.branch) parent[root(edge.a)] = root(edge.b);
    }
    return root(motor.a) == root(motor.b);
}

/// Motors that have no way round without the others: only the sets of joints that the rest has tied matter.
void look_through_motors(const Network& network, std::span<const std::size_t> motors, Ties& ties,
                         std::vector<bool>& found) {
    std::map<std::uint32_t, std::uint32_t> number;  // of a set of joints
    const auto numbered = [&](JointId joint) {
        return number.try_emplace(ties.set_of(joint.index), static_cast<std::uint32_t>(number.size())).first->second;
    };
    std::vector<MotorEnds> edges;
    for (const std::size_t motor : motors) {
        const NetworkBranch& at = network.branches[motor];
        if (!at.open) edges.push_back({motor, numbered(at.a), numbered(at.b)});
    }
    for (std::size_t i = 0; i < motors.size(); ++i) {
        const NetworkBranch& at = network.branches[motors[i]];
        if (!found[i] && is_free(at))
            found[i] = others_tie(edges, {motors[i], numbered(at.a), numbered(at.b)}, number.size());
    }
}

}  // namespace

std::vector<bool> motors_with_way_round(const Network& network, std::span<const std::size_t> motors) {
    Ties ties(network.joints);
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        const bool motor = sort_of(network.branches[i].law) == LawSort::motor;
        if (!motor && network.conducts({static_cast<std::uint32_t>(i)})) ties.tie(network.branches[i]);
    }
    std::vector<bool> found(motors.size(), false);
    bool unsure = false;
    for (std::size_t i = 0; i < motors.size(); ++i) {
        const NetworkBranch& at = network.branches[motors[i]];
        found[i] = is_free(at) && ties.tied(at);
        unsure = unsure || (is_free(at) && !found[i]);
    }
    if (motors.size() > 1 && unsure) look_through_motors(network, motors, ties, found);
    return found;
}

}  // namespace voltfall
