// Why a suspect fits, or does not: short sentences that a person can check.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// Readings that speak for a suspect against the healthy circuit, the strongest first: "3: 12.1 A in 542 fits 0.27 to
/// 0.34 ohm; healthy would be 20.2 A".
std::vector<std::string> reasons_for(const Weighed& weighed, const Suspect& suspect);

/// Readings that speak against a suspect beside the leader: "2: M1 drag would read 13.6 V at M1.1, not 10.3 V".
std::vector<std::string> reasons_against(const Weighed& weighed, const Suspect& suspect, const Suspect& leader);

/// The reading that tells most against a suspect beside the leader, or nothing where none does.
std::optional<std::size_t> strongest_against(const Weighed& weighed, const Suspect& suspect, const Suspect& leader);

/// Could these readings have come from the other suspect as well: likelihood within a factor of 1.5, every number
/// within half a sigma.
bool alike_so_far(const Weighed& weighed, const Suspect& a, const Suspect& b);

}  // namespace voltfall
