// The answer of `whatif` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/whatif.hpp"

namespace voltfall {

std::string whatif_text(const WhatifAnswer& answer, PageStyle style);
std::string whatif_json(const WhatifAnswer& answer);
std::string whatif_plain(const WhatifAnswer& answer);

}  // namespace voltfall
