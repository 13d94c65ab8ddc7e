// What a test asks, behind its state.
#pragma once

#include <optional>

#include "netlists/phrases/test.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Reads what is measured, without a value; what stands behind it is left in the reader. Returns nullopt, and at least
/// one problem, when it is not whole.
std::optional<Tested> read_tested(WordReader& words, const Circuit& circuit);

}  // namespace voltfall
