// What a job has taken, as the file's [reach] and the usual minutes of tests and repairs say: nobody's clock.
#pragma once

#include "netlists/files/job_file.hpp"

namespace voltfall {

struct JobMinutes {
    double tests{};    ///< readings before the repair, each place opened once
    double repairs{};  ///< getting to what was mended, where no test had opened it, and mending it
    double proof{};    ///< readings after the repair

    double all() const { return tests + repairs + proof; }
};

JobMinutes minutes_of_job(const Circuit& circuit, const Job& job);

}  // namespace voltfall
