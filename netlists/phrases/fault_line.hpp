// A line that tells of a fault in the trade's words, taken apart: where, what, how large.
#pragma once

#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

struct FaultLine {
    std::vector<std::string> places;  ///< as the circuit writes them, each once
    std::vector<Word> rest;           ///< what is said of them, without words that say nothing
    std::string value;                ///< the number as typed, with its unit where it has one; else empty
    bool amps{false};                 ///< the number is one of amperes
    std::string pair;                 ///< two taps, `1-2`; the rest has the word `pair` in its place
    std::string tail;                 ///< ` at 60%`, ` when hot`: as a fault's phrase ends
};

/// Takes the line apart; places that are said by their kind alone ("relay") are those of which there is one.
FaultLine fault_line(const Circuit& circuit, const std::string& line);

}  // namespace voltfall
