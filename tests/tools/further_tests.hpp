// A case whose cause is known, worked on: the tests that the program asks for next, answered as its true fault would.
#pragma once

#include "netlists/circuit/circuit.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// The job with the first `count` tests that are proposed one after the other, each answered by a truthful technician
/// at a vehicle with this fault. `size` 0: the usual one. Ends earlier where testing does.
Job with_further_tests(const Circuit& circuit, const Job& job, const FaultMode& cause, double size, std::size_t count);

}  // namespace voltfall
