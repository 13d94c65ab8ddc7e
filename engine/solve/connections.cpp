#include "engine/solve/connections.hpp"

#include <variant>

#include "engine/solve/way_round.hpp"
#include "netlists/graph/paths.hpp"

namespace voltfall {

namespace {

/// All that the answers depend on of one branch. Joints are far fewer than 2^28.
std::uint64_t print_of(const NetworkBranch& branch) {
    std::uint64_t how = 0;
    if (const auto* motor = std::get_if<Motor>(&branch.law)) {
        how = motor->rotor == Rotor::free ? 1 : 2;
    } else if (sort_of(branch.law) == LawSort::one_way) {
        how = 3;
    } else if (is_copper(branch)) {
        how = 4;
    }
    if (branch.open || !conducts(branch.law)) how |= 8;
    return how << 56 | static_cast<std::uint64_t>(branch.a.index) << 28 | branch.b.index;
}

}  // namespace

void Connections::look_at(const Network& network) {
    print_.clear();
    for (const NetworkBranch& branch : network.branches) print_.push_back(print_of(branch));
    if (network.joints == joints_ && print_ == before_) return;
    before_.swap(print_);
    joints_ = network.joints;
    floating_.reset();
    nodes_.reset();
    ways_.reset();
}

const std::vector<JointId>& Connections::floating(const Network& network) {
    look_at(network);
    if (!floating_) floating_ = floating_joints(network);
    return *floating_;
}

const Nodes& Connections::nodes(const Network& network) {
    look_at(network);
    if (!nodes_) nodes_ = number_nodes(network);
    return *nodes_;
}

const std::vector<bool>& Connections::motors_with_way(const Network& network, std::span<const std::size_t> motors) {
    look_at(network);
    if (!ways_) ways_ = motors_with_way_round(network, motors);
    return *ways_;
}

}  // namespace voltfall
