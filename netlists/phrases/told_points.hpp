// Points, positions and figures as they are told in a hurry: "M1.1 B1- 12.3V", "melted at pin 4", "on 4", "9,8 at
// M1.1".
#pragma once

#include <span>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// `9,8 at M1.1`: the comma stands within a figure. Left as it is where both sides may be positions of a list.
void join_decimals(const Circuit& circuit, std::vector<Word>& words);

/// Positions told by their number as a state has them: `on 4`, `speed 4`, `speeds 1 2 3 work, 4 dead`. A number that is
/// anything else in this circuit stays one.
void name_positions(const Circuit& circuit, std::vector<Word>& words);

/// The load that the words name, by its name or by a word for it, else the one that is meant with this control (may be
/// invalid); invalid where that does not tell.
PartId load_told(const Circuit& circuit, std::span<const Word> words, PartId control);

/// The words with points and positions in the order of a reading: a pin that is told behind its owner ("C303 melted at
/// pin 4"), two points with no `to` between them, continuity between two points, positions by their number ("on 4",
/// "speeds 1 2 3 work"). Names of parts stand in the words already.
std::vector<Word> with_told_points(const Circuit& circuit, std::vector<Word> words);

}  // namespace voltfall
