// A case whose cause is known, worked on: the tests that the program asks for next, answered as its true fault would.
#pragma once

#include <optional>
#include <vector>

#include "engine/planning/next.hpp"
#include "netlists/circuit/circuit.hpp"
#include "netlists/circuit/fault_mode.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

struct FurtherTests {
    Job job;                         ///< with the readings taken
    double minutes{};                ///< of the tests
    std::size_t tests{};             ///< that cost minutes: to watch what works is none
    std::optional<StopAdvice> stop;  ///< what `next` says in the end; nothing where `most` tests did not bring it there
};

/// The job with the tests that are proposed one after the other, `most` at most, each answered by a truthful technician
/// at a vehicle with these faults; none: a sound one. Ends earlier where testing does.
FurtherTests further_tests(const Circuit& circuit, const Job& job, std::vector<Fault> faults, std::size_t most);

}  // namespace voltfall
