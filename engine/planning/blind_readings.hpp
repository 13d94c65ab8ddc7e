// Readings that could not have shown what is suspected, because too little current flowed while they were taken.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// For the leading suspect that is ohms in series: which of the job's voltage readings would have moved only from
/// `least_blind_ohms` on, or never. "reading 3 was taken with little or no current: of C101.4 resistance it sees 120
/// ohm or more; the same points with the load running see far less".
std::vector<std::string> blind_readings(Simulator& simulator, const Weighed& weighed);

/// A joint that drops 1 V at 4 A is 0.25 ohm; a reading that needs more than this to move is blind to usual faults, ohm
/// (ASSUMED).
inline constexpr double least_blind_ohms = 2;

}  // namespace voltfall
