#include "cli/views/next_view.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_table.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

std::string unit_of(const Expectation& expectation) {
    return expectation.unit == Unit::none ? "" : std::string(unit_name(expectation.unit));
}

void add_test(TextPage& page, const Circuit& circuit, const TestProposal& test, std::size_t number) {
    page.gap();
    // What can hurt is read before what is to be done.
    for (const std::string& caution : test.caution) page.labelled("CAUTION", without_mark(caution), 2, Tone::caution);
    page.labelled(fmt::format("{}", number), write_test(circuit, test.test), 0, Tone::heading);
    page.labelled("takes", fmt::format("{}, tells {} bit", shown_minutes(test.minutes), write_fixed(test.bits, 2)), 2);
    TextTable table({{"expect if", Align::left, Fold::words}, {"reading", Align::right}});
    for (std::size_t i = 0; i < test.expect.size() && i < page.style().top; ++i)
        table.row({test.expect[i].fault, expected_text(test.expect[i])});
    if (!table.empty()) page.table(table);
    if (test.expect.size() > page.style().top)
        page.paragraph(more_line(test.expect.size() - page.style().top, test.expect.size()), 2, 2, Tone::quiet);
    if (!test.can_see.empty()) page.labelled("can see", test.can_see, 2);
    for (const std::string& note : test.notes) page.labelled("note", note, 2, Tone::quiet);
}

Json test_json(const Circuit& circuit, const TestProposal& test) {
    Json expect = Json::array();
    for (const Expectation& expectation : test.expect) {
        const bool number = expectation.word.empty();
        expect.push_back({{"fault", expectation.fault},
                          {"low", number ? json_number(expectation.low) : Json(nullptr)},
                          {"high", number ? json_number(expectation.high) : Json(nullptr)},
                          {"unit", json_text_or_null(unit_of(expectation))},
                          {"word", json_text_or_null(expectation.word)}});
    }
    return {{"test", write_test(circuit, test.test)},
            {"minutes", json_number(test.minutes)},
            {"bits", json_number(test.bits)},
            {"bits_per_minute", json_number(test.bits_per_minute)},
            {"expect", std::move(expect)},
            {"can_see", json_text_or_null(test.can_see)},
            {"caution", test.caution},
            {"notes", test.notes}};
}

}  // namespace

std::string without_mark(const std::string& caution) {
    constexpr std::string_view mark = "caution: ";
    return caution.starts_with(mark) ? caution.substr(mark.size()) : caution;
}

std::string expected_text(const Expectation& expectation) {
    if (!expectation.word.empty()) return expectation.word;
    const int decimals = expectation.unit == Unit::volt ? 2 : 1;
    const std::string low = write_fixed(expectation.low, decimals);
    const std::string high = write_fixed(expectation.high, decimals);
    const std::string unit = unit_of(expectation);
    return (low == high ? low : low + " to " + high) + (unit.empty() ? "" : " " + unit);
}

/// One place to go to, or several that nothing parts.
std::string stop_headline(const StopAdvice& stop) {
    const std::string chance = probability_words(stop.probability);
    if (stop.repairs.empty()) return fmt::format("stop testing: {} ({})", stop.fault, chance);
    if (stop.repairs.size() > 1)
        return fmt::format("stop testing: {} together ({}), not settled between them", joined(stop.repairs), chance);
    return fmt::format("stop testing: repair {} ({}); likeliest there: {}", stop.repairs.front(), chance, stop.fault);
}

void write_stop(TextPage& page, const StopAdvice& stop) {
    page.gap();
    page.paragraph(stop_headline(stop), 0, 2, Tone::good);
    if (!stop.why.empty()) page.labelled("why", stop.why, 2);
    if (!stop.order.empty()) page.labelled("with it", name_list(stop.order, page.style().top), 2);
    if (!stop.cause.empty()) page.labelled("cause", stop.cause, 2, Tone::caution);
    if (!stop.hand_back.empty()) page.labelled("until then", stop.hand_back, 2, Tone::caution);
}

std::string next_text(const NextView& view, PageStyle style) {
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    for (const std::string& note : view.answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (view.answer.stop) write_stop(page, *view.answer.stop);
    const auto& tests = view.answer.tests;
    if (tests.empty()) page.paragraph("no test at hand tells the suspects apart");
    for (std::size_t i = 0; i < tests.size() && i < style.top; ++i) add_test(page, *view.circuit, tests[i], i + 1);
    if (tests.size() > style.top) {
        page.gap();
        page.paragraph(more_line(tests.size() - style.top, tests.size()), 0, 2, Tone::quiet);
    }
    page.gap();
    page.paragraph("next: " + view.next, 0, 6);
    return page.text();
}

std::string next_json(const NextView& view) {
    Json object = json_answer("next");
    object["tests"] = Json::array();
    for (const TestProposal& test : view.answer.tests) object["tests"].push_back(test_json(*view.circuit, test));
    object["stop"] = nullptr;
    if (view.answer.stop)
        object["stop"] = {{"fault", view.answer.stop->fault},
                          {"probability", json_number(view.answer.stop->probability)},
                          {"why", view.answer.stop->why},
                          {"repairs", view.answer.stop->repairs},
                          {"order", view.answer.stop->order},
                          {"cause", json_text_or_null(view.answer.stop->cause)},
                          {"hand_back", json_text_or_null(view.answer.stop->hand_back)}};
    object["notes"] = view.answer.notes;
    return json_line(object);
}

std::string next_plain(const NextView& view) {
    const auto number = PlainRecords::number;
    PlainRecords records;
    for (const TestProposal& test : view.answer.tests) {
        std::vector<std::string> expect;
        for (const Expectation& expectation : test.expect)
            expect.push_back(expectation.fault + "=" +
                             (expectation.word.empty()
                                  ? number(expectation.low) + ".." + number(expectation.high) + unit_of(expectation)
                                  : expectation.word));
        records.record({"test", write_test(*view.circuit, test.test), number(test.minutes), number(test.bits),
                        number(test.bits_per_minute), PlainRecords::joined(expect), test.can_see,
                        PlainRecords::joined(test.caution), PlainRecords::joined(test.notes)});
    }
    if (view.answer.stop)
        records.record({"stop", view.answer.stop->fault, number(view.answer.stop->probability), view.answer.stop->why,
                        PlainRecords::joined(view.answer.stop->repairs), PlainRecords::joined(view.answer.stop->order),
                        view.answer.stop->cause, view.answer.stop->hand_back});
    for (const std::string& note : view.answer.notes) records.record({"note", note});
    return records.text();
}

}  // namespace voltfall
