// Ohms with the supply off: what a meter's own current would find in one case.
#pragma once

#include "engine/readings/solved_case.hpp"

namespace voltfall {

/// Ohms between two joints in a case, the battery taken away: of a part in the hand, where the state pulls or unplugs
/// it and both joints are its own; else of what the state leaves connected. An open way gives 1e8 and more.
double ohms_between(const Circuit& circuit, const SolvedCase& solved, const State& state, JointId red, JointId black);

/// P(what the meter shows | these ohms). The meter's own error, its leads and a part's spread are a quarter (a motor's
/// brushes more), as tables of words have it (ASSUMED).
double ohms_probability(const ReadValue& value, double ohms);
/// P(beeps | these ohms): most sound below 30 to 50 ohm (PeakTech 1080 manual p.31).
double beep_probability(bool beeps, double ohms);

}  // namespace voltfall
