// What a person says of a load in several positions at once: "I and II dead, III fine", "only III runs", "dead dead
// ok".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/test.hpp"

namespace voltfall {

/// Does the test ask how one load goes in more than one position of a control?
bool asks_of_positions(const Test& test);

/// The load that a bare word is taken for, in every position of the circuit's only control but off; nullopt where there
/// is more than one of either.
std::optional<Test> load_in_all_positions(const Circuit& circuit);

/// Readings of such a test, one for each word that was said, with its positions; positions that the line does not tell
/// of stay out. Empty where the line is no such answer, or the test no such test.
std::vector<std::string> readings_of_positions(const Circuit& circuit, const Test& test, std::string_view line);

}  // namespace voltfall
