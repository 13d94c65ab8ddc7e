#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/teach_view.hpp"
#include "cli/views/text_table.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/planning/cautions.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

void write_head(TextPage& page, const Exercise& exercise) {
    const Lesson& lesson = exercise.lesson;
    page.heading(lesson.title);
    page.labelled("level", fmt::format("{}, {}", lesson.level, lesson.skill), 0);
    page.labelled("vehicle", exercise.circuit->name, 0);
    page.labelled("concern", lesson.concern, 0);
    if (!lesson.goal.empty()) page.labelled("goal", lesson.goal, 0);
    for (const std::string& unit : lesson.serves) page.labelled("serves", unit, 0);
    page.labelled("budget", shown_minutes(lesson.budget_minutes), 0);
    page.labelled("allowed", fmt::format("{}", fmt::join(lesson.allow, ", ")), 0);
}

std::string fault_list(const Circuit& circuit, const std::vector<Fault>& faults) {
    std::vector<std::string> phrases;
    for (const Fault& fault : faults) phrases.push_back(write_fault(circuit, fault));
    return phrases.empty() ? "nothing" : fmt::format("{}", fmt::join(phrases, ", "));
}

std::string expected(const Expectation& one) {
    if (!one.word.empty()) return one.word;
    const int decimals = one.unit == Unit::volt ? 2 : 1;
    const std::string unit = one.unit == Unit::none ? "" : " " + std::string(unit_name(one.unit));
    return write_fixed(one.low, decimals) + " to " + write_fixed(one.high, decimals) + unit;
}

/// Why this test now: what the leading suspects would make of it.
std::string why_now(const TestProposal& test) {
    if (test.expect.empty()) return "what works and what does not is the cheapest measurement there is";
    std::string text = fmt::format("tells {} bit for {}: ", write_fixed(test.bits, 2), shown_minutes(test.minutes));
    for (std::size_t i = 0; i < std::min<std::size_t>(2, test.expect.size()); ++i) {
        text += fmt::format("{}{} would read {}", i == 0 ? "" : ", ", test.expect[i].fault, expected(test.expect[i]));
    }
    return text;
}

/// "hi, key run  C304.1 to B1-: 10.20 V".
std::string line_of(const Circuit& circuit, const Measured& measured) {
    return fmt::format("{}: {}", write_test(circuit, measured.test()), measured.shown);
}

void write_worked(TextPage& page, const Circuit& circuit, const WorkedRun& run, std::size_t& number) {
    for (const WorkedStep& step : run.steps) {
        if (step.test.expect.empty()) continue;
        for (const std::string& caution : step.test.caution)
            page.labelled(caution_word(caution), without_mark(caution), 2, Tone::caution);
        page.labelled(fmt::format("{}", ++number), line_of(circuit, step.measured), 0, Tone::heading);
        page.labelled("why", why_now(step.test), 4);
    }
    if (!run.stop) return;
    page.labelled("stop",
                  fmt::format("{} ({}): {}", run.stop->fault, probability_words(run.stop->probability), run.stop->why),
                  0);
}

}  // namespace

std::string handout_text(const Exercise& exercise, PageStyle style) {
    TextPage page(style);
    write_head(page, exercise);
    page.labelled("CAUTION", makers_procedure, 0, Tone::caution);
    page.gap();
    page.paragraph("The circuit");
    write_ways(page, *exercise.circuit);
    page.gap();
    page.paragraph("Your tests: before each one, write what you suspect and what you expect to read.");
    constexpr int blanks = 8;
    const bool wide = style.width >= 70;
    const std::string row = wide ? "  suspect __________  test ____________________  expect ________  read ________"
                                 : "  suspect ________ test ______________";
    for (int i = 0; i < blanks; ++i) {
        page.line(row);
        if (!wide) page.line("  expect ________  read ________");
    }
    page.gap();
    page.line("Cause      ______________________________");
    page.line("Why it failed ___________________________");
    page.line("What proves the repair __________________");
    return page.text();
}

std::string reveal_text(Simulator& simulator, const Exercise& exercise, const LessonPlan& plan, PageStyle style) {
    const Circuit& circuit = *exercise.circuit;
    TextPage page(style);
    page.paragraph("TEACHER'S SHEET: not for the class", 0, 2, Tone::caution);
    write_head(page, exercise);
    page.gap();
    if (!exercise.lesson.faults.empty() || exercise.lesson.roots.empty())
        page.labelled("hidden", fault_list(circuit, exercise.lesson.faults), 0, Tone::heading);
    if (!exercise.lesson.roots.empty())
        page.labelled("root", fault_list(circuit, exercise.lesson.roots), 0, Tone::heading);
    for (const OpenedFuse& fuse : exercise.found.opened)
        page.labelled("blown", fmt::format("{}, after {}", circuit.part(fuse.part).name, shown_seconds(fuse.seconds)),
                      0);
    if (!exercise.lesson.meets.empty()) page.labelled("meets", exercise.lesson.meets, 0);
    for (const LessonTrap& trap : exercise.lesson.traps) {
        const auto found = found_answer(simulator, exercise, trap.test);
        const auto sound = sound_answer(simulator, exercise, trap.test);
        page.labelled("trap",
                      fmt::format("{} ({}): reads {}, sound {}{}", trap.text, trap_word(trap.kind),
                                  found ? found->shown : "nothing", sound ? sound->shown : "nothing",
                                  trap.why.empty() ? "" : "; " + trap.why),
                      0);
    }
    page.gap();
    page.paragraph(fmt::format("The tool's own plan: {} of tests, {} of repair, {}", shown_minutes(plan.test_minutes),
                               shown_minutes(plan.repair_minutes), counted(plan.parts, "part")));
    for (const WorkedStep& step : plan.run.steps) {
        if (step.test.expect.empty()) continue;
        page.paragraph(line_of(circuit, step.measured), 2, 4);
    }
    for (const std::string& line : plan.repairs) page.paragraph(line, 2);
    page.labelled("result", plan.solved ? "solved" : "NOT solved", 0, plan.solved ? Tone::good : Tone::bad);
    return page.text();
}

std::string worked_text(const Exercise& exercise, const LessonPlan& plan, const std::vector<std::string>& reason,
                        PageStyle style) {
    const Circuit& circuit = *exercise.circuit;
    TextPage page(style);
    write_head(page, exercise);
    page.labelled("CAUTION", makers_procedure, 0, Tone::caution);
    page.gap();
    TextTable first({{"position"}, {"what it does"}});
    for (const WorkedStep& step : plan.run.steps) {
        if (!step.test.expect.empty()) continue;
        const Test test = step.measured.test();
        first.row({write_state(circuit, test.state), write_tested(circuit, test.tested) + " " + step.measured.shown});
    }
    page.paragraph("First every position, which costs nothing:");
    page.table(first);
    std::size_t number = 0;
    write_worked(page, circuit, plan.run, number);
    for (const WorkedRun& again : plan.again) {
        page.paragraph("Something is still wrong after that repair, so the vehicle is diagnosed anew:", 0);
        write_worked(page, circuit, again, number);
    }
    page.gap();
    page.paragraph("What is mended, in order:");
    for (const std::string& line : plan.repairs) page.paragraph(line, 2, 2, Tone::heading);
    for (const std::string& line : reason) page.labelled("reason", line, 0);
    page.labelled(
        "took", fmt::format("{}, {} of them repair", shown_minutes(plan.minutes()), shown_minutes(plan.repair_minutes)),
        0);
    return page.text();
}

}  // namespace voltfall
