// The plan on paper: A4 pages one below the other, a box a step, cautions before the step that they belong to. All type
// is 9 pt or larger when the picture is printed at its own size.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/plan_steps.hpp"
#include "cli/views/svg_page.hpp"

namespace voltfall {

namespace {

// Units of a CSS pixel, 1/96 inch: A4 is 210 mm by 297 mm, and 9 pt are 12 units.
constexpr double page_width = 794;
constexpr double page_height = 1123;
constexpr double margin = 48;
constexpr double type_size = 13;
constexpr double line_height = 18;
constexpr double padding = 10;
constexpr double row_gap = 12;
/// About the letters that a line of that type and width holds.
constexpr int letters = 92;
constexpr std::string_view quiet = "#444";
constexpr std::string_view warning = "#a33";

struct Line {
    std::string text;
    SvgText style;
    double indent{0};
};

/// Blocks of lines put on pages; a block is not cut by the end of a page.
class Paper {
public:
    void block(const std::vector<Line>& lines, bool boxed) {
        const double height = line_height * static_cast<double>(lines.size()) + (boxed ? 2 * padding : 0);
        if (y_ + height > bottom()) next_page();
        if (boxed) shapes_.box(margin, y_, page_width - 2 * margin, height, 4, "#fff");
        double y = y_ + (boxed ? padding : 0) + type_size;
        for (const Line& line : lines) {
            shapes_.text(margin + (boxed ? padding : 0) + line.indent, y, line.text, line.style);
            y += line_height;
        }
        y_ += height + row_gap;
    }

    std::string svg() const { return shapes_.page(page_width, page_height * static_cast<double>(pages_)); }

private:
    double bottom() const { return page_height * static_cast<double>(pages_) - margin; }
    void next_page() {
        y_ = page_height * static_cast<double>(pages_) + margin;
        ++pages_;
    }

    SvgShapes shapes_;
    std::size_t pages_{1};
    double y_{margin};
};

void add_wrapped(std::vector<Line>& lines, const std::string& text, const SvgText& style, double indent = 0) {
    constexpr double of_a_letter = 7.2;
    const int room = letters - static_cast<int>(std::lround(indent / of_a_letter));
    for (std::string& line : wrap_words(text, room)) lines.push_back({std::move(line), style, indent});
}

std::vector<Line> head_of(const PlanView& view) {
    std::vector<Line> lines;
    add_wrapped(lines, view.circuit->name, {.size = type_size + 3, .bold = true});
    if (!view.concern.empty()) add_wrapped(lines, view.concern, {.size = type_size});
    add_wrapped(lines,
                fmt::format("expected {}, worst {}; right repair in {}", shown_minutes(view.answer.expected_minutes),
                            shown_minutes(view.answer.worst_minutes), probability_words(view.answer.right)),
                {.size = type_size, .fill = quiet});
    return lines;
}

std::vector<Line> lines_of(const PlanStep& step) {
    constexpr double indent = 18;
    std::vector<Line> lines;
    for (const std::string& caution : step.cautions)
        add_wrapped(lines, std::string(caution_word(caution)) + " " + without_mark(caution),
                    {.size = type_size, .bold = true, .fill = warning});
    add_wrapped(lines, fmt::format("{}  {}  ({})", step.letter, step.test, shown_minutes(step.minutes)),
                {.size = type_size, .bold = true});
    for (const PlanStep::Outcome& outcome : step.outcomes)
        add_wrapped(
            lines,
            fmt::format("{} ({}): {}", outcome.readings, probability_words(outcome.probability), outcome.leads_to),
            {.size = type_size}, indent);
    if (step.folded) add_wrapped(lines, step.rest(), {.size = type_size, .fill = quiet}, indent);
    return lines;
}

}  // namespace

std::string plan_drawing(const PlanView& view) {
    Paper paper;
    paper.block(head_of(view), false);
    for (const PlanStep& step : plan_steps(view, steps_worth_telling(view.answer))) paper.block(lines_of(step), true);
    return paper.svg();
}

}  // namespace voltfall
