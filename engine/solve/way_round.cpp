#include "engine/solve/way_round.hpp"

#include <map>
#include <variant>

#include "netlists/circuit/disjoint_sets.hpp"
#include "netlists/platform/thread_kept.hpp"

namespace voltfall {

namespace {

/// Between which sets of joints a motor stands.
struct MotorEnds {
    std::size_t branch;
    std::size_t a;
    std::size_t b;
};

bool is_free(const NetworkBranch& motor) {
    return std::get<Motor>(motor.law).rotor == Rotor::free && !motor.open;
}

/// Do the other motors tie the ends of this one? `sets` of joints, numbered from 0.
bool others_tie(std::span<const MotorEnds> edges, const MotorEnds& motor, std::size_t sets) {
    DisjointSets tied(sets);
    for (const MotorEnds& edge : edges) {
        if (edge.branch != motor.branch) tied.join(edge.a, edge.b);
    }
    return tied.together(motor.a, motor.b);
}

/// Motors that have no way round without the others: only the sets of joints that the rest has tied matter.
void look_through_motors(const Network& network, std::span<const std::size_t> motors, DisjointSets& ties,
                         std::vector<bool>& found) {
    std::map<std::size_t, std::size_t> number;  // of a set of joints
    const auto numbered = [&](JointId joint) {
        return number.try_emplace(ties.set_of(joint.index), number.size()).first->second;
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
    // Its memory is kept, as this runs many times a solve.
    auto& ties = kept_by_thread<DisjointSets, struct MotorTies>();
    ties.reset(network.joints);
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        const bool motor = sort_of(network.branches[i].law) == LawSort::motor;
        if (!motor && network.conducts({static_cast<std::uint32_t>(i)}))
            ties.join(network.branches[i].a.index, network.branches[i].b.index);
    }
    std::vector<bool> found(motors.size(), false);
    bool unsure = false;
    for (std::size_t i = 0; i < motors.size(); ++i) {
        const NetworkBranch& at = network.branches[motors[i]];
        found[i] = is_free(at) && ties.together(at.a.index, at.b.index);
        unsure = unsure || (is_free(at) && !found[i]);
    }
    if (motors.size() > 1 && unsure) look_through_motors(network, motors, ties, found);
    return found;
}

}  // namespace voltfall
