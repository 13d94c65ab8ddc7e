// How motors start and what their fuses have of it, as part of the answer of `whatif`. Apart from its header, which the
// commands include, as the JSON library's is a large one.
#pragma once

#include <optional>
#include <string>

#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_page.hpp"
#include "engine/heat/startup.hpp"

namespace voltfall {

/// Lines of one state: motors with current and fuses that warm.
void write_startup(TextPage& page, const StartUp& start);

/// The object of one state; null when nobody asked.
Json startup_json(const std::optional<StartUp>& start);

/// Records `start` and `pulse`.
void write_startup_records(PlainRecords& records, const std::string& state, const StartUp& start);

}  // namespace voltfall
