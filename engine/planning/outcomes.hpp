// The readings of a test as a handful of outcomes, cut where they tell most of what must be repaired.
#pragma once

#include <string>
#include <vector>

#include "engine/planning/test_value.hpp"

namespace voltfall {

struct Outcomes {
    std::vector<std::string> labels;  ///< "below 9.8 V", "9.8 to 12.6 V", "dead"; ascending for numbers
    std::vector<double> cuts;         ///< of a number, ascending, one fewer than the labels; V or A
    std::vector<double> likelihood;   ///< P(outcome | standing), standing by standing

    std::size_t count() const { return labels.size(); }
};

/// A number is cut into at most four ranges, each cut being the one that tells most; a reading may be wrong and a probe
/// may not touch, as in `bits_of`. Words are outcomes as they are. `supply`: with the supply's spread or without.
Outcomes outcomes_of(const Circuit& circuit, const Job& job, const Weighed& weighed, const TestCandidate& test,
                     const Standings& standings, SupplyKnown supply);

}  // namespace voltfall
