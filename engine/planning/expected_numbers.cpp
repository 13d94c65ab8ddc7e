#include "engine/planning/expected_numbers.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

std::optional<ExpectedRange> expected_number(const Outlook& outlook, const TestCandidate& test, std::size_t suspect) {
    constexpr double expected_sigmas = 1.645;  // hold 90 %
    std::optional<ExpectedRange> range;
    for (const Standing& standing : outlook.standings.list) {
        if (standing.suspect != suspect || standing.hides) continue;
        const double mean = standing.prediction.mean[test.cell];
        const double half = expected_sigmas * std::sqrt(std::max(0.0, standing.prediction.variance[test.cell]));
        if (!range) range = {mean - half, mean + half};
        range->low = std::min(range->low, mean - half);
        range->high = std::max(range->high, mean + half);
    }
    return range;
}

}  // namespace voltfall
