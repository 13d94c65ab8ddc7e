// Does a probe touch? By where it stands: what is bare and in sight is touched, what is felt for behind a seal is not
// always.
#pragma once

#include "engine/solve/state.hpp"
#include "netlists/phrases/test.hpp"

namespace voltfall {

/// Chance that a lead at this joint in this state seems to touch and does not, 0 to 1: the battery's minus post, where
/// the black lead is clipped on, is always touched; rows `no_touch_…` of the defaults.
double no_touch_chance(const Circuit& circuit, const State& state, JointId joint);

/// The same of two leads: one that does not touch is enough for 0 V.
double no_touch_chance(const Circuit& circuit, const State& state, JointId red, JointId black);

}  // namespace voltfall
