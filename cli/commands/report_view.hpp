// Computes everything that a report shows.
#pragma once

#include "cli/commands/inputs.hpp"
#include "cli/report/job_report.hpp"

namespace voltfall {

/// Weighs the job, plans from it, and solves the circuit with the leading suspect in the position where that shows
/// most. A circuit alone is drawn sound, in its hardest position.
ReportView report_view(const Console& console, const Input& input);

}  // namespace voltfall
