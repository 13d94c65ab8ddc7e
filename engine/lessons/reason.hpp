// The electrical reason of a fault, in numbers: what the meter would have shown sound and what it showed.
#pragma once

#include <string>
#include <vector>

#include "engine/lessons/exercise.hpp"

namespace voltfall {

/// Sentences: what the fault does to volts and amps in the state in which it shows most, what follows from it (a fuse,
/// a limiter), and for a root, what it did to the part that failed.
std::vector<std::string> electrical_reason(Simulator& simulator, const Exercise& exercise);

}  // namespace voltfall
