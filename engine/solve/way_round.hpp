// Which motors a current can flow through at all.
#pragma once

#include <span>
#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// By motor (branch indices): is it free to turn, and do conducting branches outside it lead from one of its ends to
/// the other? A way may lead through other motors.
std::vector<bool> motors_with_way_round(const Network& network, std::span<const std::size_t> motors);

}  // namespace voltfall
