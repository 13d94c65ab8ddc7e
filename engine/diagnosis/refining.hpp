// Where a leading suspect is solved again: around the best size, around the best place, between sizes where something
// switches.
#pragma once

#include "engine/diagnosis/suspect.hpp"

namespace voltfall {

/// Sizes (on the scale of `CurvePoint::at`) that would sharpen the suspect's weight at this place: the peak and both
/// its flanks, and the middle of a gap that may hold a better fit. For a place with no size solved yet: those around
/// the suspect's best fit.
std::vector<double> sizes_to_solve(const Suspect& suspect, const SizeCurve& curve, const Scorer& scorer);

/// Cuts the stretch of wire with the best fit in three, if the fit depends on the place; the outer two have no size
/// solved yet.
void split_best_place(Suspect& suspect);

}  // namespace voltfall
