// Repairs told in lines, and what one check of their proof says.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/proof/proof.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::testing {

/// What was read before a repair, what was mended, and what was read after it.
struct Told {
    std::vector<std::string> before;
    std::vector<std::string> repaired;
    std::vector<std::string> after;
};

inline Job job_of_all(const Circuit& circuit, const Told& told) {
    Job job = job_of(circuit, told.before);
    Problems problems;
    for (const std::string& line : told.repaired)
        add_repaired(job, circuit, TypedText::argument("--repaired", line), problems);
    for (const std::string& line : told.after)
        add_reading_after(job, circuit, TypedText::argument("--after", line), problems);
    INFO(all_problems(problems));
    REQUIRE_FALSE(problems.has_errors());
    return job;
}

inline ProofAnswer proof_of(const Circuit& circuit, const Told& told) {
    return prove(solver(), circuit, job_of_all(circuit, told));
}

inline const ProofCheck* check_named(const ProofAnswer& answer, const std::string& what) {
    for (const ProofCheck& check : answer.checks)
        if (check.what == what) return &check;
    return nullptr;
}

inline const ProofCheck& check_at(const ProofAnswer& answer, const std::string& what) {
    std::string all;
    for (const ProofCheck& check : answer.checks) all += check.what + "; ";
    INFO(what << " in " << all);
    const ProofCheck* check = check_named(answer, what);
    REQUIRE(check);
    return *check;
}

/// The fan runs only when the pressure contact closes, which it does not at rest.
inline const std::string fan_that_rests = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 20A regular, feed 30"
S1 = "switch C: off on=1"
P1 = "contact opens 15bar, closes 18bar, healthy 8bar"
M1 = "motor 9A @13.5V"
G1 = "ground frame"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 1m"
2 = "S1.1 > P1.1 2.5mm2 RD 1m"
3 = "P1.2 > M1.1 2.5mm2 RD 1m"
4 = "M1.2 > G1 2.5mm2 BK 1m"
[controls]
S1 = "fan"
)";

}  // namespace voltfall::testing
