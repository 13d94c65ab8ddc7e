// What the circuit and the job tell of places: what wears there, and whose they are.
#pragma once

#include <string>
#include <vector>

#include "netlists/files/job_file.hpp"

namespace voltfall {

/// The care words that hold at a place: the circuit's, and those of a line of the job's history that names the place.
std::vector<std::string> care_words(const Circuit& circuit, const Job& job, const std::string& place);

/// The part that a fault sits in or at: by its name, or what stands before the dot ("C101.4" -> C101, "C303.1" -> R1 by
/// its plug). Invalid for a wire.
PartId part_of_place(const Circuit& circuit, const std::string& place);

}  // namespace voltfall
