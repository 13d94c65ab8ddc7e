// A test as a person at a bench asks for it: "check fuse F1", "voltage at relay 1 pin 30", "is K1 clicking on high".
#pragma once

#include <string>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// The test in the words and the order of tests: the line itself where it reads, else its only meaning. Returns the
/// line itself where it has none or several: reading it then tells why.
std::string in_test_order(const std::string& line, const Circuit& circuit);

/// Where the line names a thing that has several points, the problem that says which; else the problems of the line.
void add_clearest_of_test(const TypedText& line, const Circuit& circuit, Problems& problems);

/// The line without the words that only ask for a test ("check", "listen to", "is … ok").
std::string without_asking(const std::string& line);

}  // namespace voltfall
