// The end of an exercise, and its three ways of showing; and the results of a class.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/lessons/progress_file.hpp"

namespace voltfall {

std::string debrief_text(const LearnerResult& result, PageStyle style);
std::string debrief_json(const LearnerResult& result);
std::string debrief_plain(const LearnerResult& result);

/// By learner and skill.
std::string progress_text(const ProgressSoFar& progress, PageStyle style);
std::string progress_plain(const ProgressSoFar& progress);

}  // namespace voltfall
