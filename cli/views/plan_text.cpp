// A plan as a list of lettered steps that fits a screen.
#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/plan_steps.hpp"
#include "cli/views/plan_view.hpp"

namespace voltfall {

namespace {

void write_step(TextPage& page, const PlanStep& step) {
    for (const std::string& caution : step.cautions)
        page.labelled(caution_word(caution), without_mark(caution), 0, Tone::caution);
    page.labelled(step.letter, fmt::format("{}  ({})", step.test, shown_minutes(step.minutes)), 0, Tone::heading);
    for (const PlanStep::Outcome& outcome : step.outcomes)
        page.paragraph(
            fmt::format("{} ({}): {}", outcome.readings, probability_words(outcome.probability), outcome.leads_to), 2,
            2, outcome.ends ? Tone::good : Tone::plain);
    if (step.folded) page.paragraph(step.rest(), 2, 2, Tone::quiet);
}

TextPage steps_page(const PlanView& view, const PageStyle& style, std::size_t steps) {
    TextPage page(style);
    for (const PlanStep& step : plan_steps(view, steps)) write_step(page, step);
    return page;
}

}  // namespace

std::string plan_text(const PlanView& view, PageStyle style) {
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    for (const std::string& note : view.answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (!view.answer.tree) return page.text();
    TextPage foot({style.width, style.colour});
    foot.paragraph(fmt::format("expected {}, worst {}; it ends at the right repair in {}",
                               shown_minutes(view.answer.expected_minutes), shown_minutes(view.answer.worst_minutes),
                               probability_words(view.answer.right)));
    const std::size_t all = steps_worth_telling(view.answer);
    if (all == 0) {
        page.paragraph(fmt::format("no test is worth its minutes: repair {} and prove it ({})",
                                   view.answer.tree->repair.empty() ? "nothing" : view.answer.tree->repair,
                                   probability_words(view.answer.tree->probability)),
                       0, 2, Tone::good);
    }
    std::size_t told = all;
    // One line more says what is left out.
    while (told > 1 && steps_page(view, style, told).lines() > page.room(foot.lines() + (told < all ? 1 : 0))) --told;
    page.add(steps_page(view, style, told));
    page.add(foot);
    if (told < all)
        page.paragraph(fmt::format("{} more steps: --all; on paper: -o plan.svg", all - told), 0, 2, Tone::quiet);
    else if (style.all)
        page.paragraph(view.answer.exact ? "every order of these tests was weighed"
                                         : "a few steps are looked ahead; the rest is the best next test each time",
                       0, 2, Tone::quiet);
    return page.text();
}

}  // namespace voltfall
