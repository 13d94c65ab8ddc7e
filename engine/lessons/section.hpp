// A suspect as a learner names it: a part, a plug, a wire, or a section of the circuit.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct Section {
    std::string name;         ///< as the circuit or the list of sections writes it
    bool nothing{false};      ///< "nothing": the vehicle is sound
    std::vector<bool> modes;  ///< by mode of the catalogue: does it lie in the section?
};

/// Sections by name, on a circuit of any kind.
///   supply: battery and fuses; feed: battery plus to the loads; return: loads to battery minus; load: the loads;
///   control: switches, relays, their coils' ways; pack: resistor packs
std::vector<std::string> section_words();

/// `feed`, `C101`, `C101.4`, `542`, `M1`, `nothing`, `C101.4 resistance`. Nothing when the circuit has no such thing.
std::optional<Section> find_section(const Circuit& circuit, std::string_view typed);

/// Sections that the fault lies in, of feed, return, load and control.
std::vector<std::string> sections_holding(const Circuit& circuit, const FaultMode& mode);

}  // namespace voltfall
