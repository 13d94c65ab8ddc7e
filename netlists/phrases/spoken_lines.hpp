// Whole lines of the trade whose words stand in no order of a reading: "no ground at the motor", "hit it and it runs",
// "pulls 14 amps on high". What one means exactly is a reading; what may mean several is told.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// How many readings such a line is.
enum class SpokenAs {
    reading,  ///< one
    each,     ///< all of these: the person writes each on a line of its own
    either,   ///< one of these: the person says which
    never,    ///< none: it takes a protection away. First the thing that protects, then what to measure instead
};

/// What a line means, in the words of readings or of tests.
struct SpokenLine {
    SpokenAs as{SpokenAs::reading};
    std::vector<std::string> lines;  ///< without the number
    Unit unit{Unit::none};           ///< of the number; none where there is none
};

/// The words with what was done to the vehicle said as a state: "works after a tap on the motor" is `works tap M1`.
std::vector<Word> with_spoken_states(const Circuit& circuit, std::vector<Word> words);

/// What the words mean as a whole; `value` is the number among them, taken out, or null. `load` is the one meant where
/// none is named. Returns nullopt where they are no such line.
std::optional<SpokenLine> spoken_line(const Circuit& circuit, std::span<const Word> words, const Word* value,
                                      PartId load);

/// The same for a test, where what is to be measured is said: "voltage at M1.1", "resistance of the clutch coil".
std::optional<SpokenLine> spoken_test(const Circuit& circuit, std::span<const Word> words);

}  // namespace voltfall
