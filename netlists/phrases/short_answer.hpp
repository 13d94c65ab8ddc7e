// The answer to a test that was asked for: a number or a word alone, where the test is known.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/test.hpp"

namespace voltfall {

/// The reading's phrase for what a person answers to `test`: "10.3", "10,3 V", "dead" behind the test's own words, with
/// the test's unit where none was typed; a whole reading as it is. Returns nullopt where the line is neither.
std::optional<std::string> reading_of_answer(const Circuit& circuit, const Test& test, std::string_view line);

/// The same of a test that may have a reading a position: "only III runs". Empty where the line is no answer.
/// A word alone that does not answer is none, though it may be a reading where nothing is asked: "normal" behind volts.
std::vector<std::string> readings_of_answer(const Circuit& circuit, const Test& test, std::string_view line);

/// Is the line one word, or one figure, and so nothing but an answer to what was asked?
bool is_bare_answer(std::string_view line);

/// Why such a line is not kept: "'normal' does not answer hi  M1.1 to B1-".
std::string not_answered(const Circuit& circuit, const Test& test, std::string_view line);

}  // namespace voltfall
