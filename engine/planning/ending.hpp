// Whether testing goes on: what a test may still save against what it costs.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/planning/test_value.hpp"

namespace voltfall {

/// A test that may be taken next, as far as its price and worth are concerned.
struct TestOffer {
    double bits{};                      ///< that it tells of what must be repaired
    double minutes{};                   ///< strip-down included
    double own_minutes{};               ///< without any strip-down
    std::vector<std::string> openings;  ///< places that are opened for it
};

/// Is a test worth its minutes? Ending now costs the price of a wrong repair by the chance of one; a test saves of that
/// the share of the doubt that it takes away. What is opened for a test serves those behind it too: their bits and own
/// minutes are counted with it where that speaks for going on. `wrong_repair` is the price in minutes.
bool worth_testing(std::span<const RepairGroup> groups, std::span<const TestOffer> offers, double wrong_repair);

}  // namespace voltfall
