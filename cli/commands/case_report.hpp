// A bug's case as a file, so that it can be sent with a report.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/solve/unsound_case.hpp"

namespace voltfall {

/// Writes the command line and the case to a new file in the folder for temporary files. Its path; nullopt where no
/// file can be written.
std::optional<std::string> write_case_report(const std::vector<std::string>& args, const UnsoundCase& bug);

}  // namespace voltfall
