// Ohms with the supply off: what a meter's own current would find in one case.
#pragma once

#include "engine/readings/solved_case.hpp"

namespace voltfall {

/// Ohms between two joints in a case, the battery taken away: of a part in the hand, where the state pulls or unplugs
/// it and both joints are its own; else of what the state leaves connected. Infinity where no way leads from the one to the other.
double ohms_between(const Circuit& circuit, const SolvedCase& solved, const State& state, JointId red, JointId black);

/// One sigma of what a meter would find there by the spread of parts, as a share of the ohms.
double ohms_spread(const Circuit& circuit, const State& state, JointId red, JointId black);

/// P(what the meter shows | these ohms): of a number, that it lies within some per cent of it. The probabilities of all
/// that a meter may show, numbers side by side and "open", sum to 1 within a few hundredths. `spread`: see above.
double ohms_probability(const ReadValue& value, double ohms, double spread);
/// The same of a reading that is wrong or has any cause.
double ohms_by_chance(const ReadValue& value);
/// P(beeps | these ohms): most sound below 30 to 50 ohm (PeakTech 1080 manual p.31).
double beep_probability(bool beeps, double ohms);

}  // namespace voltfall
