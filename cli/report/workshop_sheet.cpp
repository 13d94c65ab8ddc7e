#include "cli/report/workshop_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

constexpr std::size_t most_suspects = 5;
constexpr std::size_t most_tests = 3;
constexpr std::size_t most_expectations = 4;
constexpr double worth_a_bar = 0.01;

}  // namespace

std::string cost_and_power(const TestProposal& test) {
    const std::string minutes = shown_minutes(test.minutes);
    return test.can_see.empty() ? minutes : fmt::format("{}; shows {}", minutes, test.can_see);
}

namespace {

void write_test(HtmlPage& page, const ReportView& view, const TestProposal& test, std::size_t number) {
    page.open("div", "test");
    page.heading(3, fmt::format("{}. {}", number, write_test(*view.circuit, test.test)));
    page.paragraph(cost_and_power(test), "quiet");
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < test.expect.size() && i < most_expectations; ++i)
        rows.push_back({test.expect[i].fault, expected_text(test.expect[i])});
    page.table({"if it is", "you read"}, rows);
    page.blank("Read:");
    page.close("div");
}

/// Every caution of the tests once, before the first of them, with the tests that it belongs to where not all do.
void write_cautions(HtmlPage& page, const ReportView& view) {
    struct Caution {
        std::string words;
        std::vector<std::string> tests;
    };
    std::vector<Caution> found;
    const std::size_t count = std::min(view.next.tests.size(), most_tests);
    for (std::size_t i = 0; i < count; ++i) {
        for (const std::string& caution : view.next.tests[i].caution) {
            const std::string words = without_mark(caution);
            auto known = std::find_if(found.begin(), found.end(), [&](const Caution& c) { return c.words == words; });
            if (known == found.end()) known = found.insert(known, {words, {}});
            known->tests.push_back(std::to_string(i + 1));
        }
    }
    std::vector<std::string> cautions;
    for (const Caution& caution : found) {
        const std::string of = (caution.tests.size() == 1 ? "test " : "tests ") + joined(caution.tests) + ": ";
        cautions.push_back(caution.tests.size() == count ? caution.words : of + caution.words);
    }
    cautions.emplace_back("the vehicle maker's procedure, figures and order come first; this is a planning aid");
    page.open("div", "caution");
    page.labelled("Caution", "before the tests:");
    page.list(cautions);
    page.close("div");
}

}  // namespace

void write_stop_reasons(HtmlPage& page, const StopAdvice& stop) {
    if (!stop.second_repairs.empty())
        page.labelled("Two faults, repair both:", fmt::format("{} and {}", fmt::join(stop.repairs, " or "),
                                                              fmt::join(stop.second_repairs, " or ")));
    page.paragraph(stop.why);
    if (!stop.order.empty()) page.labelled("With it:", fmt::format("{}", fmt::join(stop.order, ", ")));
    if (!stop.cause.empty()) page.labelled("Cause:", stop.cause);
    if (!stop.hand_back.empty()) page.labelled("Until then:", stop.hand_back);
}

void write_suspects(HtmlPage& page, const ReportView& view) {
    page.heading(2, view.proof ? "Before the repair the readings spoke for" : "It may be");
    std::size_t shown = 0;
    for (const ReportSuspect& suspect : view.suspects) {
        if (shown == most_suspects || suspect.probability < worth_a_bar) break;
        ++shown;
        std::string detail = suspect.fault;
        if (!suspect.repair.empty()) detail += fmt::format("; {} to reach it", shown_minutes(suspect.minutes));
        if (!suspect.with_it.empty()) detail += fmt::format("; with it: {}", fmt::join(suspect.with_it, ", "));
        page.bar(suspect.plain, probability_words(suspect.probability), suspect.probability, detail);
    }
    if (shown == 0) page.paragraph("Nothing yet: no reading has been taken.");
    if (view.none_of_these >= worth_a_bar)
        page.bar("none of these", probability_words(view.none_of_these), view.none_of_these);
}

void write_workshop_sheet(HtmlPage& page, const ReportView& view) {
    // Of a circuit alone there is nothing to fill in: its drawing follows on the same page.
    page.open("section", view.proof || view.is_job ? "sheet whole" : "sheet");
    page.heading(1, view.job.concern.empty() ? view.circuit->name : view.job.concern);
    std::string what = view.circuit->name;
    if (!view.job.job.empty()) what = fmt::format("Job {}. {}", view.job.job, what);
    if (!view.job.concern.empty() || what != view.circuit->name) page.paragraph(what, "quiet");
    if (view.proof) {
        write_proof(page, view);
        write_suspects(page, view);
    } else if (view.is_job) {
        write_suspects(page, view);
        if (view.next.stop) {
            page.heading(2, "Enough is known");
            write_stop_reasons(page, *view.next.stop);
        }
        if (!view.next.tests.empty()) {
            page.heading(2, "Next tests");
            write_cautions(page, view);
            page.open("div", "tests");
            for (std::size_t i = 0; i < view.next.tests.size() && i < most_tests; ++i)
                write_test(page, view, view.next.tests[i], i + 1);
            page.close("div");
        }
    }
    for (const std::string& note : view.notes) page.labelled("Note:", note, "quiet");
    page.close("section");
}

void write_lesson(HtmlPage& page, const ReportLesson& lesson) {
    page.open("section");
    page.heading(2, lesson.title.empty() ? "The exercise" : lesson.title);
    page.paragraph("The answer stands on this page: for the teacher, or when the exercise is over.", "quiet");
    for (const std::string& fault : lesson.hidden) page.labelled("Hidden:", fault);
    for (const std::string& root : lesson.roots) page.labelled("What made it fail:", root);
    page.heading(3, "The tool's own way");
    std::vector<std::vector<std::string>> rows;
    for (const ReportLesson::Step& step : lesson.steps)
        rows.push_back({step.test, step.shown, step.minutes > 0 ? shown_minutes(step.minutes) : ""});
    page.table({"test", "reads", "takes"}, rows);
    if (!lesson.repairs.empty()) page.labelled("Then:", fmt::format("{}", fmt::join(lesson.repairs, ", ")));
    if (!lesson.reason.empty()) page.heading(3, "Why");
    page.list(lesson.reason);
    page.close("section");
}

void write_proof(HtmlPage& page, const ReportView& view) {
    const ProofAnswer& proof = *view.proof;
    page.open("section");
    page.heading(2, "Has the repair been proved?");
    page.paragraph(proof.proved ? (proof.nothing_found ? "No fault found: every check has passed."
                                                       : "PROVED: every check has passed.")
                                : "NOT PROVED",
                   proof.proved ? "good" : "bad");
    page.labelled("Hand back:", proof.hand_back_text);
    if (!proof.cautions.empty()) {
        page.open("div", "caution");
        page.labelled("Caution", "before what is still to be read:");
        page.list(proof.cautions);
        page.close("div");
    }
    std::vector<std::vector<std::string>> rows;
    std::vector<std::string> said;  // sentences: a column of them would be narrow and tall on a phone
    for (const ProofCheck& check : proof.checks) {
        rows.push_back({check.what, std::string(word_of(check.result)), check.before, check.after, check.limit});
        std::string why = check.why;
        if (check.result != CheckResult::passed && !check.closes.empty())
            why += (why.empty() ? "take: " : "; take: ") + check.closes;
        if (!why.empty()) said.push_back(check.what + ": " + why);
    }
    page.table({"check", "result", "before", "after", "limit"}, rows);
    page.list(said);
    rows.clear();
    for (const BeforeAfter& row : proof.compared) rows.push_back({row.test, row.before, row.after, row.sound});
    page.heading(3, "Before and after");
    page.table({"read", "before", "after", "a sound one"}, rows);
    page.labelled("Concern.", proof.concern_text);
    page.labelled("Cause.", proof.cause_text);
    page.labelled("Correction.", proof.correction_text);
    page.labelled("Time.", time_text(proof.minutes, view.rate));
    for (const std::string& item : proof.order) page.labelled("To order:", item);
    for (const std::string& item : proof.may_wait) page.labelled("May wait:", item);
    page.close("section");
}

}  // namespace voltfall
