// What the driver notices: how every load goes in every position of the controls.
#pragma once

#include <string>
#include <vector>

#include "engine/readings/technician.hpp"

namespace voltfall {

struct Symptom {
    State state;
    PartId load;
    LoadSeen healthy{LoadSeen::normal};  ///< of a sound vehicle: normal, or off
    LoadSeen seen{LoadSeen::normal};     ///< now

    bool is_wrong() const { return seen != healthy; }
};

/// Every load in every default state, as the vehicle stands; faults with a condition do not show. A state without a
/// solution is left out.
std::vector<Symptom> symptoms_of(Simulator& simulator, const Vehicle& vehicle);

bool anything_wrong(const std::vector<Symptom>& symptoms);

/// The same faults with every condition of theirs fulfilled (hot, on bumps).
Vehicle with_conditions_met(Vehicle vehicle);

/// Opens what blows in any default state; a fuse that opens in one of them is found open.
void let_blow(Simulator& simulator, Vehicle& vehicle);

/// The concern in a customer's words: "no air in lo, ml and mh; hi is as always".
std::string concern_in_words(const Circuit& circuit, const std::vector<Symptom>& symptoms);

}  // namespace voltfall
