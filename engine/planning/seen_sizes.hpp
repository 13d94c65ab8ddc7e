// From which size on a test would show the leading suspect.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/planning/outlook.hpp"

namespace voltfall {

class SeenSizes {
public:
    /// Solves the leading suspect that has a size over its whole range, in the tests' states.
    explicit SeenSizes(const Outlook& outlook);

    /// "C101.4 resistance of 0.05ohm or more": the size nearest to healthy that the test would show. Empty where no
    /// suspect has a size, or the test has no number.
    std::string seen_by(const TestCandidate& test) const;

private:
    const Outlook& outlook_;
    std::optional<std::size_t> sized_;
    std::vector<double> sizes_;
    std::vector<Prediction> at_size_;  ///< by size, the healthy circuit last
};

}  // namespace voltfall
