// Whether testing goes on: what a test may still save against what it costs. Knows nothing of circuits.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace voltfall {

/// A test that may be taken next, as far as its price and worth are concerned.
struct TestOffer {
    double bits{};                      ///< that it tells of what must be repaired
    double minutes{};                   ///< strip-down included
    double own_minutes{};               ///< without any strip-down
    std::vector<std::size_t> openings;  ///< what is opened for it
};

/// Which tests are worth their minutes? Ending now costs the price of a wrong repair by the chance of one; a test saves
/// of that the share of the doubt that it takes away. What is opened for a test serves those behind it too: their bits
/// and own minutes are counted with it where that speaks for it. `shares` are the chances of the repairs, the sum of
/// which is 1 or a little less; `wrong_repair` is the price in minutes.
std::vector<bool> worth_their_minutes(std::span<const double> shares, std::span<const TestOffer> offers,
                                      double wrong_repair);

}  // namespace voltfall
