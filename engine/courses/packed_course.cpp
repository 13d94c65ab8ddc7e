#include "engine/courses/packed_course.hpp"

namespace voltfall {

namespace {

bool same(const NetworkBranch& a, const NetworkBranch& b) {
    return a.open == b.open && a.held == b.held && a.turning == b.turning && a.added_ohms == b.added_ohms &&
           a.a == b.a && a.b == b.b && a.law == b.law;
}

template <class Value>
std::vector<std::pair<std::uint32_t, Value>> differences(const std::vector<Value>& now,
                                                         const std::vector<Value>& bare) {
    std::vector<std::pair<std::uint32_t, Value>> list;
    for (std::uint32_t i = 0; i < now.size(); ++i) {
        if (now[i] != bare[i]) list.emplace_back(i, now[i]);
    }
    return list;
}

template <class List>
std::size_t bytes_of(const List& list) {
    return list.size() * sizeof(typename List::value_type);
}

}  // namespace

PackedSettled::PackedSettled(const Settled& settled, const Network& bare)
    : pull_factors_(differences(settled.network.pull_factors, bare.pull_factors)),
      ratings_(differences(settled.network.ratings, bare.ratings)),
      held_positions_(differences(settled.network.held_positions, bare.held_positions)),
      volts_(settled.point.volts),
      amps_(settled.point.amps),
      relay_pulled_(settled.relay_pulled),
      floating_(settled.floating),
      weak_(settled.weak),
      chattering_(settled.chattering),
      holding_(settled.holding),
      joints_(settled.network.joints),
      battery_(settled.network.battery) {
    for (std::uint32_t i = 0; i < settled.network.branches.size(); ++i) {
        const NetworkBranch& branch = settled.network.branches[i];
        if (i >= bare.branches.size() || !same(branch, bare.branches[i])) changed_.emplace_back(i, branch);
        if (settled.point.speed[i] != 0) speeds_.emplace_back(i, settled.point.speed[i]);
    }
}

Settled PackedSettled::unpack(const Network& bare) const {
    Settled settled{bare, {}, relay_pulled_, floating_, weak_, chattering_, holding_};
    settled.network.joints = joints_;
    settled.network.battery = battery_;
    for (const auto& [i, branch] : changed_) {
        if (i < bare.branches.size()) {
            settled.network.branches[i] = branch;
        } else {
            settled.network.branches.push_back(branch);
        }
    }
    for (const auto& [part, factor] : pull_factors_) settled.network.pull_factors[part] = factor;
    for (const auto& [part, amps] : ratings_) settled.network.ratings[part] = amps;
    for (const auto& [part, position] : held_positions_) settled.network.held_positions[part] = position;
    settled.point.volts = volts_;
    settled.point.amps = amps_;
    settled.point.speed.assign(amps_.size(), 0.0);
    for (const auto& [i, speed] : speeds_) settled.point.speed[i] = speed;
    return settled;
}

std::size_t PackedSettled::bytes() const {
    return sizeof(*this) + bytes_of(changed_) + bytes_of(speeds_) + bytes_of(volts_) + bytes_of(amps_) +
           bytes_of(floating_) + bytes_of(weak_) + relay_pulled_.size() / 8;
}

PackedCourse::PackedCourse(const Course& course, const Network& bare)
    : faulted_(course.faulted, bare),
      after_(course.after ? std::make_unique<PackedSettled>(*course.after, bare) : nullptr),
      aftermath_(course.aftermath),
      opened_(course.opened) {}

Course PackedCourse::unpack(const Network& bare) const {
    Course course{faulted_.unpack(bare), aftermath_, std::nullopt, opened_};
    if (after_) course.after = after_->unpack(bare);
    return course;
}

std::size_t PackedCourse::bytes() const {
    return sizeof(*this) + faulted_.bytes() + (after_ ? after_->bytes() : 0) + bytes_of(aftermath_) + bytes_of(opened_);
}

}  // namespace voltfall
