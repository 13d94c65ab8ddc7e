#include "cli/views/read_view.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/json_document.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_table.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

/// "97 in 100"; chances below 1 in 100 are told as such.
std::string chance_text(double chance) {
    if (chance < 0.01) return "under 1 in 100";
    return fmt::format("{} in 100", std::lround(100 * std::min(chance, 0.99)));
}

}  // namespace

void write_effect(TextPage& page, const ReadView& view) {
    const std::string_view many = view.keys.size() > 1 ? "s" : "";
    page.paragraph(fmt::format("{} reading{} {} of {}: {}", view.taken_back ? "took out" : "kept as", many,
                               joined(view.keys), view.file, view.reading));
    page.gap();
    TextTable table({{"it may be", Align::left, Fold::words}, {"now", Align::right}, {"before", Align::right}});
    const std::size_t shown = std::min(view.answer.effect.suspects.size(), page.style().top);
    for (std::size_t i = 0; i < shown; ++i) {
        const ChangedChance& suspect = view.answer.effect.suspects[i];
        table.row({suspect.fault, chance_text(suspect.after), chance_text(suspect.before)});
    }
    if (shown > 0) page.table(table, 0);
    if (view.answer.none_of_these >= least_chance)
        page.paragraph("none of these: " + chance_text(view.answer.none_of_these), 0, 2, Tone::quiet);
    if (!view.answer.effect.ruled_out.empty())
        page.labelled("ruled out by it", name_list(view.answer.effect.ruled_out, page.style().top), 0);
    if (!view.answer.effect.come_back.empty())
        page.labelled("possible again", name_list(view.answer.effect.come_back, page.style().top), 0);
    if (!view.answer.effect.doubt.empty())
        page.labelled("doubtful", "reading " + view.answer.effect.doubt + " contradicts the rest: take it again", 0,
                      Tone::caution);
}

void write_asked(TextPage& page, const TestProposal& test, const std::string& phrase, const std::string& how) {
    page.gap();
    for (const std::string& caution : test.caution)
        page.labelled(caution_word(caution), without_mark(caution), 0, Tone::caution);
    page.paragraph(fmt::format("next ({}): {}", shown_minutes(test.minutes), phrase), 0, 2, Tone::heading);
    if (!how.empty()) page.paragraph(how, 2);
    TextTable table({{"if it is", Align::left, Fold::words}, {"you read", Align::right}});
    for (std::size_t i = 0; i < test.expect.size() && i < page.style().top; ++i)
        table.row({test.expect[i].fault, expected_text(test.expect[i])});
    if (!table.empty()) page.table(table);
}

std::string read_text(const ReadView& view, PageStyle style) {
    TextPage page(style);
    write_effect(page, view);
    if (view.answer.next.stop) {
        write_stop(page, *view.answer.next.stop);
    } else if (view.tests.empty()) {
        page.gap();
        page.paragraph("no test at hand tells the suspects apart");
    } else {
        write_asked(page, view.answer.next.tests.front(), view.tests.front(), view.how);
    }
    return page.text();
}

std::string read_json(const ReadView& view) {
    Json object = json_answer("read");
    object["file"] = view.file;
    object["key"] = view.keys.back();
    object["keys"] = view.keys;
    object["reading"] = view.reading;
    object["suspects"] = Json::array();
    for (const ChangedChance& suspect : view.answer.effect.suspects)
        object["suspects"].push_back({{"fault", suspect.fault},
                                      {"probability", json_number(suspect.after)},
                                      {"before", json_number(suspect.before)}});
    object["none_of_these"] = json_number(view.answer.none_of_these);
    object["ruled_out"] = view.answer.effect.ruled_out;
    object["come_back"] = view.answer.effect.come_back;
    object["doubtful"] = json_text_or_null(view.answer.effect.doubt);
    object["next"] = json_text_or_null(view.tests.empty() ? "" : view.tests.front());
    object["stop"] = json_text_or_null(view.answer.next.stop ? view.answer.next.stop->fault : "");
    return json_line(object);
}

std::string read_plain(const ReadView& view) {
    const auto number = PlainRecords::number;
    PlainRecords records;
    records.record({"read", view.file, view.keys.back(), view.reading});
    for (const ChangedChance& suspect : view.answer.effect.suspects)
        records.record({"suspect", suspect.fault, number(suspect.after), number(suspect.before)});
    records.record({"none_of_these", number(view.answer.none_of_these)});
    for (const std::string& fault : view.answer.effect.ruled_out) records.record({"ruled_out", fault});
    for (const std::string& fault : view.answer.effect.come_back) records.record({"come_back", fault});
    if (!view.answer.effect.doubt.empty()) records.record({"doubtful", view.answer.effect.doubt});
    if (!view.tests.empty()) records.record({"next", view.tests.front()});
    if (view.answer.next.stop) records.record({"stop", view.answer.next.stop->fault});
    return records.text();
}

}  // namespace voltfall
