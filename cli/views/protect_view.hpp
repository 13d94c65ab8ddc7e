// The answer of `protect` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/protection_answer.hpp"

namespace voltfall {

std::string protect_text(const ProtectAnswer& answer, PageStyle style);
std::string protect_json(const ProtectAnswer& answer);
std::string protect_plain(const ProtectAnswer& answer);

}  // namespace voltfall
