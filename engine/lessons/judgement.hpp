// What a test could have shown at all: of this fault, and of any.
#pragma once

#include <optional>
#include <string>

#include "engine/lessons/exercise.hpp"

namespace voltfall {

/// What the same test shows on a sound vehicle with instruments without error. Nothing where it has no answer.
std::optional<Measured> sound_answer(Simulator& simulator, const Exercise& exercise, const Test& test);
/// And on the vehicle as it came in.
std::optional<Measured> found_answer(Simulator& simulator, const Exercise& exercise, const Test& test);

/// The largest current in any load of a sound vehicle in the test's state, amperes.
double sound_amps(Simulator& simulator, const Exercise& exercise, const Test& test);

/// Would the instrument show the difference between the two?
bool tells_apart(const Measured& one, const Measured& other, const std::vector<Tool>& tools);

/// Why the test cannot show what is hidden: one sentence; nothing when it can.
std::optional<std::string> why_blind(Simulator& simulator, const Exercise& exercise, const Test& test);

/// Why the test tells nothing on any vehicle, which gives nothing away: the point floats even in a sound circuit, or
/// a drop is measured where no current flows. Nothing when it may tell something.
std::optional<std::string> why_empty(Simulator& simulator, const Exercise& exercise, const Test& test);

}  // namespace voltfall
