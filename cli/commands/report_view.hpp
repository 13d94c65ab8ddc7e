// Computes everything that a report shows.
#pragma once

#include "cli/commands/inputs.hpp"
#include "cli/report/job_report.hpp"
#include "engine/lessons/exercise.hpp"

namespace voltfall {

class Dictionary;

/// Weighs the job, plans from it, and solves the circuit with the leading suspect in the position where that shows
/// most. A circuit alone is drawn sound, in its hardest position.
ReportView report_view(const Console& console, const Input& input);

/// The same for a page that is shown while the job goes on: without plan, speeds and fuses.
ReportView live_view(const Console& console, const Input& input, Dictionary& dictionary);

/// An exercise with its answer: what is hidden is drawn and marked.
ReportView lesson_view(const Console& console, const Exercise& exercise);

}  // namespace voltfall
