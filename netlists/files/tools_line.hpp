// Instruments at hand, as `tools = ["meter 0.5%+2digits", "lamp 21W"]` names them.
#pragma once

#include <optional>
#include <vector>

#include "netlists/files/job_file.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// The tools of one text, "meter, clamp 1%+0.3A", each with its place.
std::vector<TypedText> tools_between_commas(const TypedText& text);

/// Reads one instrument; what it does not say comes from the defaults table. Returns nullopt and adds a problem when it
/// is unknown.
std::optional<Tool> read_tool(const TypedText& text, Problems& problems);

/// Reads one more instrument into the list; a problem where it is unknown or stands there already.
void add_tool(std::vector<Tool>& tools, const TypedText& text, Problems& problems);

/// Meter, clamp and lamp with the accuracy of the defaults table.
std::vector<Tool> usual_tools();

}  // namespace voltfall
