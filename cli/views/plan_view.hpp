// The answer of `plan`, in text, for programs, and as a drawing of one page.
#pragma once

#include <memory>
#include <string>

#include "cli/views/text_page.hpp"
#include "engine/planning/plan.hpp"

namespace voltfall {

struct PlanView {
    std::shared_ptr<const Circuit> circuit;
    std::string concern;
    PlanAnswer answer;
};

/// The tree as an outline: a step, then each outcome with what it leads to.
std::string plan_text(const PlanView& view, PageStyle style);
std::string plan_json(const PlanView& view);
/// A record a step: its number, the step and outcome it follows, and what is done.
std::string plan_plain(const PlanView& view);
/// The tree from left to right as SVG, one page wide.
std::string plan_drawing(const PlanView& view);

}  // namespace voltfall
