// Does a probe touch? By where it stands: what is bare and in sight is touched, what is felt for behind a seal is not
// always.
#pragma once

#include <span>

#include "engine/solve/state.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// Chance that a lead at this joint in this state seems to touch and does not, 0 to 1: the battery's minus post, where
/// the black lead is clipped on, is always touched; rows `no_touch_…` of the defaults.
double no_touch_chance(const Circuit& circuit, const State& state, JointId joint);

/// The same of two leads: one that does not touch is enough for 0 V.
double no_touch_chance(const Circuit& circuit, const State& state, JointId red, JointId black);

/// Does it show 0 to its last digit?
bool shows_zero(const ReadValue& value);

/// Chance that 0 V is a lead that did not touch; `of_the_state` is all volts that were read in the state, this one
/// included. Where another of them shows volts at a point, it can be touched. Looks at the same points share what
/// stands in the way of a touch: all n of them miss with the first one's chance times `no_touch_again` for each further
/// look, of which each has the n-th root.
double zero_without_touch(const Circuit& circuit, const State& state, const VoltsReading& zero,
                          std::span<const VoltsReading* const> of_the_state);

}  // namespace voltfall
