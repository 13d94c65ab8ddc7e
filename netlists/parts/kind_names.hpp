// What the trade calls the kinds of parts beside the words of a file: for suggestions.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "netlists/parts/kind.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// How a line that begins with no kind is to be begun: the kind stands further back in it ("blower motor 22A"), or its
/// words are the trade's for one ("pressure switch"). Empty where neither is so.
std::string kind_advice(std::span<const Word> line);

}  // namespace voltfall
