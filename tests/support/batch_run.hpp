// Runs a deck text through the separate program `ngspice -b` and reads what it prints.
#pragma once

#include <map>
#include <string>

namespace voltfall::test {

/// "n12" -> volts, "i(v3)" -> amperes. Throws when the program cannot be run or prints nothing.
std::map<std::string, double> batch_run(const std::string& deck_text);

}  // namespace voltfall::test
