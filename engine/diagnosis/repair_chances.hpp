// Suspects added up by what one visit mends.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/answer.hpp"
#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// The thing that is reached and mended in one visit when this fault is the cause: a plug or connector with all its
/// cavities ("C101"), a part with all that can fail in it ("M1"), the terminals of a part whose plug has no name
/// ("M1 terminals"), a wire from end to end ("542").
std::string visited_place(const Circuit& circuit, const FaultMode& mode);

/// All suspects by visited place, the likeliest place first, each place's faults the likeliest first. Places below
/// `least` are left out. "nothing" stands for the sound circuit.
std::vector<RepairChance> repair_chances(const Circuit& circuit, const Weighed& weighed, double least);

}  // namespace voltfall
