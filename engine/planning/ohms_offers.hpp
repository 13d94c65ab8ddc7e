// What an ohmmeter may be asked: parts in the hand, off their plug or out of their socket.
#pragma once

#include <string>
#include <vector>

#include "netlists/files/job_file.hpp"

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

/// Those that the job has not taken: a winding, a pack, a resistor, a contact closed, and a contact where it stands
/// open. Nothing where no one control has an off.
std::vector<OhmsOffer> ohms_offers(const Circuit& circuit, const Job& job);

}  // namespace voltfall
