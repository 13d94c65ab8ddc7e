// The answer of `show` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/overview.hpp"

namespace voltfall {

std::string show_text(const ShowAnswer& answer, PageStyle style);
std::string show_json(const ShowAnswer& answer);
std::string show_plain(const ShowAnswer& answer);

}  // namespace voltfall
