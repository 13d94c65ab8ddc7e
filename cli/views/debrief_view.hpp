// The end of an exercise, and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/lessons/debrief.hpp"

namespace voltfall {

struct DebriefView {
    std::string file;  ///< lesson or circuit
    std::string title;
    std::string skill;
    int level{1};
    long long seed{};
    Debrief debrief;
};

std::string debrief_text(const DebriefView& view, PageStyle style);
std::string debrief_json(const DebriefView& view);
std::string debrief_plain(const DebriefView& view);

}  // namespace voltfall
