// How motors start and what their fuses have of it, as part of the answer of `whatif`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/startup_figures.hpp"
#include "cli/views/text_page.hpp"

namespace voltfall {

/// Lines of one state: motors with current and fuses that warm.
void write_startup(TextPage& page, const StartupFigures& start);

/// The object of one state; null when nobody asked.
Json startup_json(const std::optional<StartupFigures>& start);

/// Records `start` and `pulse`.
void write_startup_records(PlainRecords& records, const std::string& state, const StartupFigures& start);

}  // namespace voltfall
