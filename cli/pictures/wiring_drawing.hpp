// The circuit as it is wired: supply on top, ground at the bottom.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "cli/pictures/picture.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

struct WiringCase {
    const Settled* settled{nullptr};    ///< whose volts and amperes are written
    std::string state;                  ///< "hi"
    std::string fault;                  ///< "C101.4 resistance 0.3ohm"; empty: the sound circuit
    std::vector<std::string> suspects;  ///< places to mark: "C101.4", "542"
};

/// Every part and wire: wire number, size, colour as letters and swatch, volts to B1- at both ends, amperes as the
/// weight of the line.
Picture wiring_drawing(const WiringCase& of);

/// The same figures as rows: wire, colour, size, from and volts there, to and volts there, amperes.
std::vector<std::vector<std::string>> wiring_rows(const WiringCase& of);
std::vector<std::string> wiring_heads();

}  // namespace voltfall
