// The end of testing: what to repair and prove, what to order, what is still to be asked, and whether the vehicle may
// be handed back meanwhile.
#pragma once

#include <optional>

#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"

namespace voltfall {

/// Nothing while the likeliest repair is below `sure_enough` and a test is left that tells something.
std::optional<StopAdvice> stop_advice(const Outlook& outlook, bool tests_left);

}  // namespace voltfall
