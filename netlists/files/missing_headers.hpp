// Lines that stand without their section's header.
#pragma once

#include "netlists/files/toml_file.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// Wires and parts of a circuit without [wires] or [parts] above them: told once, at the first of them, and moved to
/// the section that is missing, so that they are read as they are meant.
void put_in_circuit_headers(TomlFile& file, Problems& problems);

/// The same for readings of a job without [readings]: keys that are numbers.
void put_in_job_headers(TomlFile& file, Problems& problems);

}  // namespace voltfall
