#include "cli/views/proof_view.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/views/figures.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

namespace {

std::size_t count_of(const ProofAnswer& answer, CheckResult result) {
    return static_cast<std::size_t>(std::count_if(answer.checks.begin(), answer.checks.end(),
                                                  [&](const ProofCheck& check) { return check.result == result; }));
}

Tone tone_of(CheckResult result) {
    switch (result) {
        case CheckResult::passed:
            return Tone::good;
        case CheckResult::failed:
            return Tone::bad;
        case CheckResult::open:
            break;
    }
    return Tone::caution;
}

/// Everything that is not passed, each with what would close it; the same reading is named once.
void write_open(TextPage& page, const ProofAnswer& answer) {
    std::string closed_by;
    if (!answer.cautions.empty()) page.gap();
    for (const std::string& caution : answer.cautions) page.labelled("CAUTION", caution, 0, Tone::caution);
    for (const CheckResult result : {CheckResult::failed, CheckResult::open}) {
        for (const ProofCheck& check : answer.checks) {
            if (check.result != result) continue;
            page.gap();
            page.labelled(word_of(result), check.what + (check.why.empty() ? "" : ": " + check.why), 0,
                          tone_of(result));
            if (check.closes.empty()) continue;
            page.labelled("take", check.closes == closed_by ? "the same" : check.closes, 2);
            closed_by = check.closes;
        }
    }
}

void write_checks(TextPage& page, const ProofAnswer& answer) {
    TextTable table({{"check", Align::left, Fold::words},
                     {"before", Align::right},
                     {"after", Align::right},
                     {"limit", Align::right, Fold::words, 1},
                     {"result", Align::left}});
    for (const ProofCheck& check : answer.checks)
        table.row({check.what, check.before, check.after, check.limit,
                   TableCell(std::string(word_of(check.result)), tone_of(check.result))});
    if (table.empty()) return;
    page.gap();
    page.table(table, 0);
}

void write_compared(TextPage& page, const ProofAnswer& answer) {
    TextTable table({{"read", Align::left, Fold::words},
                     {"before", Align::right},
                     {"after", Align::right},
                     {"sound", Align::right, Fold::whole, 1}});
    for (const BeforeAfter& row : answer.compared) table.row({row.test, row.before, row.after, row.sound});
    if (table.empty()) return;
    page.gap();
    page.heading("before and after");
    page.table(table, 0);
}

void write_list(TextPage& page, std::string_view label, const std::vector<std::string>& items) {
    for (const std::string& item : items) page.labelled(label, item, 0);
}

}  // namespace

std::string verdict_of(const ProofAnswer& answer) {
    if (answer.proved)
        return fmt::format("{}: {} passed", answer.nothing_found ? "NO FAULT FOUND" : "PROVED",
                           counted(answer.checks.size(), "check"));
    const std::size_t open = count_of(answer, CheckResult::open);
    const std::size_t failed = count_of(answer, CheckResult::failed);
    std::string text = "NOT PROVED:";
    if (failed > 0) text += fmt::format(" {} failed", failed);
    if (open > 0) text += fmt::format("{} {} still open", failed > 0 ? "," : "", open);
    return text;
}

std::string proof_text(const ProofView& view, PageStyle style) {
    const ProofAnswer& answer = view.answer;
    TextPage page(style);
    page.paragraph(verdict_of(answer), 0, 2, answer.proved ? Tone::good : Tone::bad);
    page.labelled("hand back:", answer.hand_back_text, 0);
    write_open(page, answer);
    write_checks(page, answer);
    write_compared(page, answer);
    page.gap();
    page.labelled("concern:", answer.concern_text, 0);
    page.labelled("cause:", answer.cause_text, 0);
    page.labelled("correction:", answer.correction_text, 0);
    page.labelled("time:", time_text(answer.minutes, view.rate), 0);
    if (!answer.order.empty() || !answer.may_wait.empty()) page.gap();
    write_list(page, "to order:", answer.order);
    write_list(page, "may wait:", answer.may_wait);
    for (const std::string& note : answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (!view.next.empty() && !answer.proved) {
        page.gap();
        page.paragraph("next: " + view.next, 0, 6);
    }
    return page.text();
}

}  // namespace voltfall
