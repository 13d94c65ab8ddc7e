// What the circuit and the job tell of places: what wears there.
#pragma once

#include <string>
#include <vector>

#include "netlists/files/job_file.hpp"

namespace voltfall {

/// The care words that hold at a place: the circuit's, and those of a line of the job's history that names the place.
std::vector<std::string> care_words(const Circuit& circuit, const Job& job, const std::string& place);

}  // namespace voltfall
