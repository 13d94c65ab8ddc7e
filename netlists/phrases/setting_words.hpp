// What was set, said in a clause: "with the blower on".
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// `with blower on`, `when S2 is off`, `while lamps are on` as the setting that they say ("S2=run"), behind the rest of
/// the line. A name is a control's, or a load's that one control alone switches; where that control has several
/// positions that are on, the line stays as it is.
std::vector<Word> with_settings_said(const Circuit& circuit, std::vector<Word> words);

}  // namespace voltfall
