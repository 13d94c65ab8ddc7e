// What may be typed, one screen a topic, from the forms of the grammar, with names of a circuit at hand.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/views/text_page.hpp"
#include "netlists/parts/kind.hpp"

namespace voltfall {

/// parts, readings, states, faults, files.
std::vector<std::string> help_topics();

/// The topic's screen; names are those of the circuit, or of an invented one where it is null. The topic must be one of
/// the list.
std::string topic_help(std::string_view topic, const Circuit* circuit, PageStyle style);

/// One kind of part: a line of it, its terminals, what each of its figures can be.
std::string kind_help(const Kind& kind, PageStyle style);

}  // namespace voltfall
