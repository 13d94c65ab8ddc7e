// Jobs typed in a line a reading, and made up from a solved fault.
#pragma once

#include <string>
#include <vector>

#include "netlists/files/job_file.hpp"
#include "tests/support/phrase_circuits.hpp"

namespace voltfall::testing {

inline Job job_of(const Circuit& circuit, const std::vector<std::string>& readings) {
    Job job;
    Problems problems;
    for (const std::string& reading : readings)
        add_reading(job, circuit, TypedText::argument("--read", reading), problems);
    INFO(all_problems(problems));
    REQUIRE_FALSE(problems.has_errors());
    REQUIRE(job.readings.size() == readings.size());
    return job;
}

}  // namespace voltfall::testing
