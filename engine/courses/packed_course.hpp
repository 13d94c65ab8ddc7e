// A course without what its circuit says already.
#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// A settled case as its difference from the bare network.
class PackedSettled {
public:
    PackedSettled(const Settled& settled, const Network& bare);
    Settled unpack(const Network& bare) const;
    std::size_t bytes() const;

private:
    std::vector<std::pair<std::uint32_t, NetworkBranch>> changed_;  ///< branches that are not the bare network's
    std::vector<std::pair<std::uint32_t, double>> pull_factors_;    ///< by part, where a clutch needs more than its own
    std::vector<std::pair<std::uint32_t, double>> ratings_;         ///< by part, where another fuse is fitted
    std::vector<std::pair<std::uint32_t, int>> held_positions_;
    std::vector<std::pair<std::uint32_t, double>> speeds_;
    std::vector<double> volts_;
    std::vector<double> amps_;
    std::vector<bool> relay_pulled_;
    std::vector<JointId> floating_;
    std::vector<JointId> weak_;
    std::vector<PartId> chattering_;
    std::vector<PartId> holding_;
    std::size_t joints_{0};
    BatteryState battery_{BatteryState::resting};
};

class PackedCourse {
public:
    PackedCourse(const Course& course, const Network& bare);
    Course unpack(const Network& bare) const;
    const std::vector<PartId>& opened() const { return opened_; }
    const std::vector<Event>& aftermath() const { return aftermath_; }
    std::size_t bytes() const;

private:
    PackedSettled faulted_;
    std::unique_ptr<PackedSettled> after_;
    std::vector<Event> aftermath_;
    std::vector<PartId> opened_;
};

}  // namespace voltfall
