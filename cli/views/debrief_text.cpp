#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "cli/views/debrief_view.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

namespace {

/// How a sentence begins that says how it ended.
std::string_view verdict_said(Verdict verdict) {
    switch (verdict) {
        case Verdict::solved:
            return "Solved:";
        case Verdict::cause_left:
            return "Mended, but its cause is left:";
        case Verdict::not_mended:
            return "Not mended:";
        case Verdict::false_alarm:
            return "A sound part was renewed for nothing:";
        case Verdict::unsafe:
            return "Stopped, because it was unsafe:";
    }
    return {};
}

Tone verdict_tone(Verdict verdict) {
    switch (verdict) {
        case Verdict::solved:
            return Tone::good;
        case Verdict::cause_left:
            return Tone::caution;
        case Verdict::not_mended:
        case Verdict::false_alarm:
        case Verdict::unsafe:
            return Tone::bad;
    }
    return Tone::plain;
}

/// The key stands as one expects: left out, so that the line is short.
std::string without_key(std::string test) {
    for (const std::string_view words : {", key run", ", key on"}) {
        const auto at = test.find(words);
        if (at != std::string::npos) test.erase(at, words.size());
    }
    return test;
}

std::string first_of(const std::vector<std::string>& names, std::size_t most) {
    std::string text;
    for (std::size_t i = 0; i < std::min(most, names.size()); ++i) text += (i > 0 ? ", " : "") + names[i];
    if (names.size() > most) text += fmt::format(" and {} more", names.size() - most);
    return text;
}

std::string what_it_told(const DebriefStep& step) {
    if (step.is_work) return step.guess ? "a guess: no reading spoke for it" : "";
    if (step.after_work) return "after the repair";
    if (step.lamp_section) return "the last section that shows millivolts leads to the short";
    if (step.untouched) return "the probe had not touched: such a 0 V is taken again";
    std::string text;
    if (!step.ruled_out.empty()) text = "ruled out " + first_of(step.ruled_out, 4);
    if (step.repeated) return "the same test again" + (text.empty() ? "" : "; " + text);
    if (!step.blind.empty()) return "could not show it: " + step.blind + (text.empty() ? "" : "; it " + text);
    if (!text.empty()) return text;
    if (!step.bits) return "";
    if (*step.bits < 0.05) return "told nothing new";
    constexpr double a_good_deal = 0.6;  // bits: a quarter of the suspects split off, or one of them twice as likely
    return *step.bits < a_good_deal ? "told a little" : "told a good deal";
}

/// Free looks at what works are many and cost nothing: only those that told something are listed.
bool is_worth_a_line(const DebriefStep& step) {
    return step.is_work || step.minutes > 0 || !step.ruled_out.empty();
}

void write_steps(TextPage& page, const Debrief& debrief) {
    TextTable table({{"test", Align::left, Fold::words},
                     {"reading", Align::right},
                     {"min", Align::right},
                     {"what it told", Align::left, Fold::words}});
    std::size_t free = 0;
    for (const DebriefStep& step : debrief.steps) {
        if (!is_worth_a_line(step)) {
            ++free;
            continue;
        }
        table.row({without_key(step.test), step.value, step.minutes > 0 ? fmt::format("{:.3g}", step.minutes) : "",
                   what_it_told(step)});
    }
    if (!table.empty()) page.table(table);
    if (free > 0) page.paragraph(fmt::format("and {} that cost nothing", counted(free, "look")), 2, 2, Tone::quiet);
}

std::string list_or_none(const std::vector<std::string>& names) {
    return names.empty() ? "none" : fmt::format("{}", fmt::join(names, ", "));
}

void write_figures(TextPage& page, const Debrief& debrief) {
    const DebriefFigures& f = debrief.figures;
    std::string minutes = shown_minutes(f.minutes);
    if (f.budget_minutes > 0) minutes += fmt::format(" of {}", shown_minutes(f.budget_minutes));
    if (f.plan_minutes > 0)
        minutes += fmt::format("; the tool's own plan {} {}", f.plan_solved ? "took" : "did not find it in",
                               shown_minutes(f.plan_minutes));
    page.labelled("minutes", minutes, 0,
                  f.budget_minutes > 0 && f.minutes > f.budget_minutes ? Tone::caution : Tone::plain);
    page.labelled("parts", fmt::format("{} fitted; for nothing: {}", f.parts, list_or_none(f.wrong_parts)), 0,
                  f.wrong_parts.empty() ? Tone::plain : Tone::bad);
    const bool worked =
        std::any_of(debrief.steps.begin(), debrief.steps.end(), [](const DebriefStep& step) { return step.is_work; });
    if (worked)
        page.labelled("guesses",
                      f.unwarranted.empty()
                          ? "none: the readings spoke for every repair"
                          : fmt::format("{}: no reading spoke for it when it was done", list_or_none(f.unwarranted)),
                      0, f.unwarranted.empty() ? Tone::plain : Tone::bad);
    page.labelled("risk", f.risk ? "an unsafe action ended the exercise" : "nothing unsafe was done", 0,
                  f.risk ? Tone::bad : Tone::plain);
}

}  // namespace

std::string debrief_text(const LearnerResult& result, PageStyle style) {
    const Debrief& debrief = result.debrief;
    TextPage page(style);
    page.paragraph(std::string(verdict_said(debrief.verdict)) + " " + debrief.sentence, 0, 2,
                   verdict_tone(debrief.verdict));
    std::string hidden = debrief.hidden.empty() && debrief.roots.empty()
                             ? "nothing"
                             : fmt::format("{}", fmt::join(debrief.hidden, ", "));
    if (!debrief.roots.empty())
        hidden = debrief.hidden.empty() ? fmt::format("{}", fmt::join(debrief.roots, ", "))
                                        : fmt::format("{}; behind it {}", hidden, fmt::join(debrief.roots, ", "));
    page.labelled("hidden", hidden, 0, Tone::heading);
    write_steps(page, debrief);
    write_figures(page, debrief);
    for (const std::string& line : debrief.reason) page.labelled("why", line, 0);
    if (!debrief.own_numbers.empty()) page.labelled("yours", debrief.own_numbers, 0);
    const bool sound = debrief.hidden.empty() && debrief.roots.empty();
    if (debrief.verdict != Verdict::unsafe && !sound) page.labelled("proof", debrief.proof, 0);
    page.labelled("next", debrief.afterwards, 0);
    return page.text();
}

}  // namespace voltfall
