// A line that is more than one reading: "relay clicks but motor dead", "M1.1 12.4V / M1.2 0.2V", "only high works".
#pragma once

#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// `relay clicks but motor dead`, `M1.1 12.4V / M1.2 0.2V`: two readings in one line, parted by a word, by a stroke or
/// by the only comma. Empty where the line has no such halves.
std::vector<std::string> two_readings(const TypedText& phrase, const Circuit& circuit);

/// The readings of a line that is several: "only high works" tells of every position. One, the line in the order of a
/// reading, where it is one or none.
std::vector<std::string> readings_in_line(const std::string& line, const Circuit& circuit);

}  // namespace voltfall
