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
    std::vector<WireId> wires{};        ///< those that are drawn, with their parts; empty: all
};

/// "Wiring in hi, with C101.4 resistance 0.3ohm".
std::string wiring_title(const WiringCase& of);

/// The wires that one drawing takes: circuits that share nothing but supply and metal stand apart, small ones together.
/// `concerned` are names of parts, cavities or wires; where there are any, circuits without one of them are left out.
std::vector<std::vector<WireId>> drawings_of(const Circuit& circuit, const std::vector<std::string>& concerned);

/// Parts and wires: wire number, size, colour as letters and swatch, volts to B1- at both ends, amperes as the weight
/// of the line.
Picture wiring_drawing(const WiringCase& of);

/// The same in pieces that a printed page holds, from top to bottom; no box is cut.
std::vector<Picture> wiring_pages(const WiringCase& of);

/// The same figures as rows: wire, colour, size, from and volts there, to and volts there, amperes.
std::vector<std::vector<std::string>> wiring_rows(const WiringCase& of);
std::vector<std::string> wiring_heads();

}  // namespace voltfall
