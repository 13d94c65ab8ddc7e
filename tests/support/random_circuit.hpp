// Random circuits with relays, motors, diodes and plain copper, for holding one solver against another.
#pragma once

#include "tests/support/branch_circuit.hpp"

namespace voltfall::test {

/// The same number gives the same circuit. Every joint is tied to the others; one to two batteries, 6 to 24 joints.
Circuit random_circuit(unsigned number);

}  // namespace voltfall::test
