// The answer of `check` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/lessons/file_check.hpp"

namespace voltfall {

std::string check_text(const CheckAnswer& answer, PageStyle style);
std::string check_json(const CheckAnswer& answer);
std::string check_plain(const CheckAnswer& answer);

}  // namespace voltfall
