// The volts and amperes that a suspect leaves to expect of tests not taken yet, with the readings taken so far known.
#pragma once

#include <optional>

#include "engine/planning/outlook.hpp"

namespace voltfall {

/// 90 % of what a number will be, V or A.
struct ExpectedRange {
    double low{};
    double high{};
};

/// Over the sizes in which most of the suspect's weight lies; nothing where it was not solved. `test` is of the outlook
/// and has a number.
std::optional<ExpectedRange> expected_number(const Outlook& outlook, const TestCandidate& test, std::size_t suspect);

}  // namespace voltfall
