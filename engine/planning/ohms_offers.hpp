// What an ohmmeter may be asked: parts in the hand, off their plug or out of their socket, and the harness at a plug.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// A stretch of ohms that a meter may show, or "open".
struct OhmsOutcome {
    ReadValue value;
    std::string words;
};

/// A measurement of ohms with the supply off.
struct OhmsOffer {
    StatePhrase phrase;
    OhmsTest tested;
    std::string place;  ///< what must be reached
    double minutes{};   ///< that its state takes
    std::vector<OhmsOutcome> outcomes;
};

/// Those that the job has not taken. In the hand: a winding, a pack, a resistor, a contact closed, and a contact where
/// it stands open. Where something may have rubbed through, bridged or shorted: at the plugs next to it, taken off with
/// the key off, from each cavity that then carries nothing to ground, and across what two cavities lead to. Nothing
/// where no one control has an off.
std::vector<OhmsOffer> ohms_offers(Simulator& simulator, const Circuit& circuit, const Job& job,
                                   const Weighed& weighed);

}  // namespace voltfall
