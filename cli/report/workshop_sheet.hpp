// The parts of a report, each a piece of the page.
#pragma once

#include "cli/report/html_page.hpp"
#include "cli/report/job_report.hpp"

namespace voltfall {

/// One printed page: concern, suspects, the next three tests with room for the readings, cautions.
void write_workshop_sheet(HtmlPage& page, const ReportView& view);
/// "1 min; can see 20mohm or more".
std::string cost_and_power(const TestProposal& test);
/// Why testing ends, what goes with it, the cause that is still to be asked, and what may be done until then.
void write_stop_reasons(HtmlPage& page, const StopAdvice& stop);
/// The suspects as bars, the likeliest first.
void write_suspects(HtmlPage& page, const ReportView& view);
/// The ladder with its table.
void write_ladder(HtmlPage& page, const VoltageLadder& ladder);
/// The wiring with its table.
void write_wiring(HtmlPage& page, const ReportView& view);
/// Has the repair been proved: checks, before and after, the three paragraphs.
void write_proof(HtmlPage& page, const ReportView& view);
/// What was hidden, the shortest way to it and the electrical reason.
void write_lesson(HtmlPage& page, const ReportLesson& lesson);
/// Drawings, each with its table underneath.
void write_pictures(HtmlPage& page, const ReportView& view);

}  // namespace voltfall
