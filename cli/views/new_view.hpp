// The answer of `new` without a name, and its three ways of showing.
#pragma once

#include <string>
#include <vector>

#include "cli/views/text_page.hpp"

namespace voltfall {

struct StarterLine {
    std::string name;
    std::string line;
};
using StarterList = std::vector<StarterLine>;

std::string new_text(const StarterList& list, PageStyle style);
std::string new_json(const StarterList& list);
std::string new_plain(const StarterList& list);

}  // namespace voltfall
