// A job whose repair has not brought everything back, as one: what was read before it, and what was read since.
#pragma once

#include "netlists/files/job_file.hpp"

namespace voltfall {

/// Where something was repaired and read after it, the job with the latter behind the readings before, each in a state
/// in which the repaired places are mended: one of two faults is then gone, and the other still there. A fuse that was
/// found whole after the repair is left out: it was renewed, and its being whole tells of no reading before. Else the
/// job as it is.
Job job_at_hand(const Job& job);

/// Places that are mended while tests are taken now: those of the last reading.
std::vector<std::string> mended_by_now(const Job& job);

}  // namespace voltfall
