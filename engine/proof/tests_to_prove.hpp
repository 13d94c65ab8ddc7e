// What is still to be read until a repair is proved, as tests that can be asked for one by one.
#pragma once

#include <vector>

#include "engine/proof/proof.hpp"
#include "netlists/phrases/test.hpp"

namespace voltfall {

/// The tests that close what is open, and then those of what has failed, which are read again once more is mended; each
/// once. What is closed by writing something down is
/// none of them.
std::vector<Test> tests_to_prove(const Circuit& circuit, const ProofAnswer& answer);

}  // namespace voltfall
