#include "cli/views/next_view.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>

#include "cli/views/figures.hpp"
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_table.hpp"
#include "engine/readings/triggers.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

constexpr std::string_view warning_mark = "warning: ";

std::string unit_of(const Expectation& expectation) {
    return expectation.unit == Unit::none ? "" : std::string(unit_name(expectation.unit));
}

/// "C101.4 resistance: 3.40 to 4.00 V; M1 drag: 0.02 to 0.06 V; 2 more".
std::string expectations_text(const TestProposal& test, std::size_t most) {
    std::string text;
    for (std::size_t i = 0; i < test.expect.size() && i < most; ++i)
        text += fmt::format("{}{}: {}", i == 0 ? "" : "; ", test.expect[i].fault, expected_text(test.expect[i]));
    if (test.expect.size() > most) text += fmt::format("; {} more", test.expect.size() - most);
    return text;
}

/// A test on two or three lines behind its cautions; a caution that stands on the page is not written again.
TextPage test_lines(const PageStyle& style, const Circuit& circuit, const TestProposal& test, std::size_t number,
                    std::set<std::string>& said) {
    constexpr std::size_t usual_expectations = 2;
    TextPage page(style);
    // What can hurt is read before what is to be done.
    for (const std::string& caution : test.caution)
        if (said.insert(caution).second) page.labelled(caution_word(caution), without_mark(caution), 0, Tone::caution);
    page.labelled(
        fmt::format("{}", number),
        fmt::format("{}  ({}, {})", write_test(circuit, test.test), shown_minutes(test.minutes), worth_words(test)), 0,
        Tone::heading);
    if (const std::string how = how_asked(circuit, test.test); !how.empty()) page.paragraph(how, 2);
    const std::string expect = expectations_text(test, style.all ? test.expect.size() : usual_expectations);
    if (!expect.empty()) page.labelled("expect", expect, 2);
    if (style.all && !test.can_see.empty()) page.labelled("shows", test.can_see, 2);
    if (style.all)
        for (const std::string& note : test.notes) page.labelled("note", note, 2, Tone::quiet);
    return page;
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
    for (const std::string_view mark : {warning_mark, std::string_view("caution: ")})
        if (caution.starts_with(mark)) return caution.substr(mark.size());
    return caution;
}

std::string_view caution_word(const std::string& caution) {
    return caution.starts_with(warning_mark) ? "WARNING" : "CAUTION";
}

std::string_view worth_words(const TestProposal& test) {
    if (test.finds_complaint) return test.test.state.conditions.empty() ? "is it there now?" : "to bring it about";
    const double bits = test.bits;
    // Bits of a split in two groups: 1 of halves, 0.81 of a quarter and the rest, 0.47 of a tenth.
    constexpr double of_halves = 1.2;
    constexpr double of_a_third = 0.87;
    constexpr double of_a_quarter = 0.6;
    constexpr double of_a_tenth = 0.35;
    if (bits > of_halves) return "splits the suspects into several groups";
    if (bits > of_a_third) return "splits the suspects about in half";
    if (bits > of_a_quarter) return "splits off about a quarter of the suspects";
    return bits > of_a_tenth ? "splits off about a tenth of the suspects" : "tells little, but something";
}

namespace {

/// How a condition is made, in one line; empty where none is.
std::string how_made(const Test& test) {
    const auto condition = condition_made(test.state);
    if (!condition || test.state.after_seconds || test.state.conditions.empty()) return {};
    switch (*condition) {
        case Trigger::heat:
            return fmt::format("hot: it has run for {:.0f} min with the load on, or till it failed",
                               default_value("minutes_run_hot"));
        case Trigger::cold:
            return "cold: in the first minute after the vehicle has stood cold";
        case Trigger::water:
            return "wet: what is outside has been sprayed with water";
        case Trigger::movement:
            return "bump: while the vehicle is rocked or the looms are shaken";
        case Trigger::itself:
            break;
    }
    return {};
}

}  // namespace

std::string how_asked(const Circuit& circuit, const Test& test) {
    if (std::string made = how_made(test); !made.empty()) return made;
    if (!asks_of_positions(test)) return {};
    return fmt::format("turn {} through them: how does {} go in each?",
                       circuit.part(test.state.settings.back().part).name, write_tested(circuit, test.tested));
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
    if (!stop.second_repairs.empty())
        return fmt::format("stop testing: two faults, repair both: {} and {} ({}); likeliest there: {}",
                           fmt::join(stop.repairs, " or "), fmt::join(stop.second_repairs, " or "), chance, stop.fault);
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
    constexpr std::size_t usual_tests = 3;
    constexpr std::size_t usual_notes = 2;
    TextPage page(style);
    TextPage foot({style.width, style.colour});
    const auto& tests = view.answer.tests;
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    const std::size_t notes = style.all ? view.answer.notes.size() : std::min(usual_notes, view.answer.notes.size());
    for (std::size_t i = 0; i < notes; ++i) page.labelled("note", view.answer.notes[i], 0, Tone::caution);
    if (view.answer.stop) write_stop(page, *view.answer.stop);
    if (tests.empty() && !view.answer.stop) page.paragraph("no test at hand tells the suspects apart");
    const bool stopped = view.answer.stop && !style.all && !style.top_given;
    const std::size_t most = stopped ? 0 : style.all || style.top_given ? style.top : usual_tests;
    const std::string rest = stopped && !tests.empty() ? "tests all the same: --all; "
                                                       : "all tests and what each suspect would read: --all; ";
    foot.paragraph((tests.empty() ? "" : rest) + "then: " + view.next, 0, 2, Tone::quiet);
    std::set<std::string> said;
    std::size_t shown = 0;
    for (; shown < tests.size() && shown < most; ++shown) {
        const TextPage test = test_lines(style, *view.circuit, tests[shown], shown + 1, said);
        if (shown > 0 && test.lines() > page.room(foot.lines())) break;
        page.add(test);
    }
    page.add(foot);
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
                          {"second_repairs", view.answer.stop->second_repairs},
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
                        view.answer.stop->cause, view.answer.stop->hand_back,
                        PlainRecords::joined(view.answer.stop->second_repairs)});
    for (const std::string& note : view.answer.notes) records.record({"note", note});
    return records.text();
}

}  // namespace voltfall
