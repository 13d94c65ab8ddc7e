// Which positions a control may have had where a reading does not say.
#pragma once

#include <vector>

#include "engine/solve/settled.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// The volts and amperes that a reading looks at, as a state has them (a load's own volts for a word of it); empty for
/// what is felt, looked at or measured with the supply off. What floats counts as 0 V.
std::vector<double> values_read(const Circuit& circuit, const Reading& reading, const Settled& settled);

/// The states that a reading may have been taken in: `state` itself, unless a control that the phrase does not name
/// moves the healthy reading; then each of that control's positions. A load is looked at with its control on, so `off`
/// is left out for words but `glows`.
std::vector<State> open_positions(Simulator& simulator, const Circuit& circuit, const Reading& reading,
                                  const State& state);

}  // namespace voltfall
