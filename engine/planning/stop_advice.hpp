// The end of testing: what to repair and prove, what to order, what is still to be asked, and whether the vehicle may
// be handed back meanwhile.
#pragma once

#include <optional>

#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"

namespace voltfall {

/// Nothing while the likeliest repair is below `sure_enough` and a test is left that is worth its minutes. Where none
/// is and no repair is nearly sure, several are named in the order to try them.
std::optional<StopAdvice> stop_advice(const Outlook& outlook, bool tests_left);

}  // namespace voltfall
