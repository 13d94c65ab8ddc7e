// The answer of `show` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/overview.hpp"

namespace voltfall {

/// Each load's way once, with what the positions change.
std::string show_text(const ShowAnswer& answer, PageStyle style);
/// Every value that the file leaves to a default or guesses, with its source and who uses it.
std::string show_defaults_text(const ShowAnswer& answer, PageStyle style);
std::string show_json(const ShowAnswer& answer);
std::string show_plain(const ShowAnswer& answer);

}  // namespace voltfall
