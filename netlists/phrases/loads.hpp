// Which load a person means by "blower", "fan", "clutch" or "lamp".
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Parts that do the work: motors, clutches, lamps, heaters.
std::vector<PartId> loads_of(const Circuit& circuit);

/// Do people of the trade call such a part so: a motor "blower" or "fan", a clutch "compressor"?
bool is_called(const Part& part, std::string_view word);

/// What the load is called where it is the only one of its kind: by the word of a control where that fits ("fan"), else
/// as its kind mostly is. Empty where there are several, or no word.
std::string word_of_load(const Circuit& circuit, PartId load);

/// Is it a word for a load (`blower`, `fan`, `clutch`, `lamp`, or the word of a control)?
bool is_load_word(const Circuit& circuit, std::string_view word);

/// The only load of that kind, otherwise the one that the control so named switches. None or several: what stands
/// between is for the person to say.
struct MeantLoad {
    PartId part;                     ///< invalid when the word does not tell
    std::vector<PartId> candidates;  ///< what it might be, for the message
};
MeantLoad find_load(const Circuit& circuit, std::string_view word);

/// The loads that a switch reaches from its contacts: through wires, contacts, packs and the contacts of relays whose
/// coil it reaches, but through no other load, no fuse and no other control.
std::vector<PartId> loads_switched_by(const Circuit& circuit, PartId control);

}  // namespace voltfall
