#include "cli/serve/job_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/report/workshop_sheet.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

std::vector<std::string> first_of(Sayings sayings, std::size_t count) {
    return words_of(sayings.first(std::min(count, sayings.size())));
}

std::vector<std::string> load_words(LoadKind kind) {
    std::vector<std::string> words;
    for (const std::string_view word : load_words_of(kind)) words.emplace_back(load_word_said(kind, word));
    return words;
}

/// Words that the test may be answered by, on buttons; none where a number is asked.
std::vector<std::string> answers_to(const Circuit& circuit, const TestProposal& test) {
    using Words = std::vector<std::string>;
    constexpr std::size_t usual = 2;  // of a relay and a fuse the others are rare
    return std::visit(
        Overloaded{[&](const LoadTest& load) { return load_words(load_kind_of(circuit.part(load.part))); },
                   [](const LampTest&) { return words_of(test_lamp_sayings()); },
                   [](const BeepTest&) { return words_of(beep_sayings()); },
                   [](const AirTest&) { return words_of(air_sayings()); },
                   [](const RelayTest&) { return first_of(relay_sayings(), usual); },
                   [](const FuseTest&) { return first_of(fuse_sayings(), usual); },
                   [](const LookTest&) { return Words{"clean", "burnt", "crust", "rubbed"}; },
                   [](const OhmsTest&) { return Words{"open"}; }, [](const auto&) { return Words{}; }},
        test.test.tested);
}

void write_card(HtmlPage& page, const JobPage& job) {
    page.open("section", "card");
    if (job.asked == nullptr) {
        page.heading(2, "No further test at hand tells the suspects apart");
        page.close("section");
        return;
    }
    const TestProposal& test = *job.asked;
    if (!test.caution.empty()) {
        page.open("div", "caution");
        std::vector<std::string> cautions;
        for (const std::string& caution : test.caution) cautions.push_back(without_mark(caution));
        page.labelled("Caution", "first:");
        page.list(cautions);
        page.close("div");
    }
    page.heading(2, job.asked_phrase);
    page.paragraph(cost_and_power(test), "quiet");
    page.open_form("/answer");
    page.hidden("turn", job.turn);
    page.hidden("test", job.asked_phrase);
    for (const std::string& word : answers_to(*job.view.circuit, test)) page.button("value", word, word);
    page.close("form");
    page.open_form("/answer");
    page.hidden("turn", job.turn);
    page.hidden("test", job.asked_phrase);
    page.field("value", "What you read", "text");
    page.button("do", "keep", "Keep it", "main");
    page.button("do", "skip", "Another test");
    page.close("form");
    std::vector<std::vector<std::string>> rows;
    for (const Expectation& expectation : test.expect) rows.push_back({expectation.fault, expected_text(expectation)});
    page.table({"if it is", "you read"}, rows);
    page.close("section");
}

void write_other(HtmlPage& page, const JobPage& job) {
    page.open_form("/answer");
    page.hidden("turn", job.turn);
    page.field("reading", "Something else, as a whole reading: key run, hi  M1.1 to B1-  10.3V", {}, job.typed);
    page.button("do", "keep", "Keep it", "main");
    page.close("form");
    if (job.last_key.empty()) return;
    page.open_form("/undo");
    page.hidden("turn", job.turn);
    page.hidden("key", job.last_key);
    page.button("do", "undo", "Take out reading " + job.last_key);
    page.close("form");
    page.paragraph(job.last_key + ": " + job.last_reading, "quiet");
}

}  // namespace

std::string job_page(const JobPage& job) {
    HtmlPage page;
    const std::string& concern = job.view.job.concern;
    page.heading(1, concern.empty() ? job.view.circuit->name : concern);
    page.paragraph(counted(job.view.job.readings.size(), "reading") + " kept in " + job.view.job.path, "quiet");
    if (!job.news.empty()) page.paragraph(job.news, "told");
    if (!job.message.empty()) page.paragraph(job.message, "told");
    if (!job.typed.empty()) page.labelled("Typed:", job.typed, "bad");
    if (job.view.next.stop) {
        page.open("section", "card");
        page.heading(2, "Enough is known: " + job.view.next.stop->fault);
        page.paragraph(job.view.next.stop->why);
        page.close("section");
    }
    write_card(page, job);
    write_other(page, job);
    page.frame("/news?seen=" + job.stamp, "Changes by others");
    write_suspects(page, job.view);
    write_ladder(page, job.view.ladder);
    write_wiring(page, job.view);
    page.open_form("/invite");
    page.button("do", "invite", "Let another phone or screen in");
    page.close("form");
    page.paragraph("The vehicle maker's procedure, figures and order come first; this is a planning aid.", "quiet");
    return page.file(concern.empty() ? job.view.circuit->name : concern, "", PageForms::to_own_server);
}

std::string news_page(const std::string& news) {
    constexpr int seconds = 4;
    HtmlPage page;
    if (!news.empty()) {
        page.link("/", news + " Show it");
    } else {
        page.paragraph("Up to date: changes by others show here.", "quiet");
    }
    return page.file("News", "", PageForms::to_own_server, seconds);
}

std::string invite_page(const std::string& address, const std::string& qr_svg) {
    HtmlPage page;
    page.heading(1, "Let another phone or screen in");
    page.paragraph("Open this address there. It opens once, for one browser; readings of both go into the same job.");
    page.paragraph(address, "address");
    page.picture(qr_svg, PictureWidth::own, "");
    page.link("/", "Back to the job");
    return page.file("Let another in", "", PageForms::to_own_server);
}

}  // namespace voltfall
