// Where to measure a fault so that it stands out best from all others.
#pragma once

#include "tests/scenarios/fault_bench.hpp"

namespace voltfall {

/// Six points, the same in two states, that leave healthy and the rivals (by their prior) least weight beside a fault:
/// chosen one after the other, each reading judged by what it adds to those before it when part tolerances, the supply
/// and the meter are as uncertain as they are.
struct Choice {
    std::vector<std::size_t> states;
    std::vector<std::size_t> points;
};
/// The fault's view has slopes.
Choice choose_readings(const FaultBench& bench, const Job& job, const FaultView& fault);

/// Do the chosen readings of two faults agree within the meter's tolerance?
bool reads_alike(const FaultBench& bench, const Fault& a, const Fault& b, const Choice& choice);

}  // namespace voltfall
