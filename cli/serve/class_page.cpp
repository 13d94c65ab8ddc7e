#include "cli/serve/class_page.hpp"

#include <fmt/format.h>

#include "cli/report/html_page.hpp"
#include "cli/serve/request.hpp"
#include "cli/views/figures.hpp"

namespace voltfall {

namespace {

/// A page that waits for a debrief, or shows a class at work, looks again so often.
constexpr int seconds_to_look_again = 2;
constexpr int seconds_of_class = 10;

void write_turn(HtmlPage& page, const LearnerBench::Turn& turn) {
    page.lines("> " + turn.line + "\n" + turn.reply);
}

/// The turns before `end`, the latest first.
void write_turns(HtmlPage& page, const LearnerBench& bench, std::size_t end) {
    for (std::size_t i = end; i > 0; --i) write_turn(page, bench.turns()[i - 1]);
}

void write_actions(HtmlPage& page, const BenchPage& shown) {
    const LearnerBench& bench = *shown.bench;
    const std::string turn = std::to_string(bench.turns().size());
    const auto& suspect = bench.run().last_suspect();
    page.open("section", "card");
    page.heading(2, bench.standing());
    page.open_form("/line");
    page.hidden("lesson", bench.lesson().stem());
    page.hidden("turn", turn);
    page.field("suspect", "Your suspect: a part, plug, wire, or supply, feed, return, load, control, pack, nothing", {},
               !shown.suspect.empty() ? shown.suspect
               : suspect              ? suspect->name
                                      : "");
    page.field("line", "What you do: hi M1.1 to B1-, new F7, repair C101.4", {}, shown.line);
    page.button("do", "act", "Do it", "main");
    page.close("form");
    const std::pair<const char*, const char*> words[] = {
        {"try", "Try every position"},    {"map", "Ways of the current"},
        {"points", "Where to probe"},     {"hint", "A hint"},
        {"bill", "Minutes and parts"},    {"help", "Words"},
        {"done", "Hand the vehicle back"}};
    page.open_form("/line");
    page.hidden("lesson", bench.lesson().stem());
    page.hidden("turn", turn);
    for (const auto& [word, label] : words) page.button("word", word, label);
    page.close("form");
    page.close("section");
}

void write_lesson_list(HtmlPage& page, const std::vector<ListedLesson>& lessons) {
    for (const ListedLesson& lesson : lessons) {
        page.open("section", "card");
        page.heading(2, lesson.title.empty() ? lesson.stem : lesson.title);
        if (!lesson.problem.empty()) {
            page.paragraph(lesson.problem, "bad");
        } else {
            page.paragraph(
                fmt::format("level {}, {}; {}", lesson.level, shown_minutes(lesson.budget_minutes), lesson.state),
                "quiet");
            page.link("/bench?lesson=" + query_text(lesson.stem), "Work it");
        }
        page.close("section");
    }
}

}  // namespace

std::string who_page(const std::string& message) {
    HtmlPage page;
    page.heading(1, "Who are you?");
    if (!message.empty()) page.paragraph(message, "bad");
    page.open_form("/who");
    page.field("who", "Your initials, one to four letters");
    page.button("do", "enter", "Begin", "main");
    page.close("form");
    return page.file("Who are you?", "", PageForms::to_own_server);
}

std::string taken_page(const std::string& who) {
    HtmlPage page;
    page.heading(1, who + " is at work already");
    page.paragraph("If that is you, on another phone or before this page was lost, go on with that bench.");
    page.form_button("/who", {{"who", who}, {"do", "same"}}, "That is me: go on", "main");
    page.link("/", "No: other initials");
    return page.file("Initials taken", "", PageForms::to_own_server);
}

std::string lessons_page(const std::string& who, const std::vector<ListedLesson>& lessons, bool jobs) {
    HtmlPage page;
    page.heading(1, "Lessons for " + who);
    write_lesson_list(page, lessons);
    if (jobs) page.link("/jobs", "Jobs");
    return page.file("Lessons", "", PageForms::to_own_server);
}

std::string bench_page(const BenchPage& shown) {
    const LearnerBench& bench = *shown.bench;
    const Lesson& lesson = bench.run().exercise().lesson;
    HtmlPage page;
    page.heading(1, lesson.concern);
    page.paragraph(fmt::format("{}; bench of {}", lesson.title, bench.who()), "quiet");
    if (!shown.message.empty()) page.paragraph(shown.message, "bad");
    int look_again = 0;
    std::size_t older = bench.turns().size();
    if (!bench.is_over()) {
        // What was just done has shown something: on a phone that is seen before the fields and buttons.
        if (older > 0) write_turn(page, bench.turns()[--older]);
        write_actions(page, shown);
    } else if (const auto debrief = bench.debrief()) {
        page.heading(2, "What it was");
        page.lines(*debrief);
    } else {
        look_again = seconds_to_look_again;
        page.paragraph("The vehicle is handed back; what it was worth is being worked out.", "told");
        page.link("/bench?lesson=" + query_text(bench.lesson().stem()), "Look again");
    }
    write_turns(page, bench, older);
    page.lines(bench.intro());
    if (!shown.drawing.empty()) {
        page.heading(2, "The sound circuit");
        page.picture(shown.drawing, PictureWidth::own, "");
    }
    page.link("/", "All lessons");
    return page.file(lesson.title, "", PageForms::to_own_server, look_again);
}

std::string teacher_page(const std::vector<BenchRow>& rows, const std::vector<ListedLesson>& lessons,
                         const std::string& class_address, const std::string& qr_svg, bool jobs) {
    HtmlPage page;
    page.heading(1, "The class");
    if (rows.empty()) page.paragraph("Nobody has begun yet.");
    std::vector<std::vector<std::string>> cells;
    for (const BenchRow& row : rows)
        cells.push_back({row.who, row.title.empty() ? row.stem : row.title, row.state, std::to_string(row.tests),
                         std::to_string(row.parts), std::to_string(row.hints)});
    page.table({"who", "lesson", "stands", "tests", "parts", "hints"}, cells);
    for (const BenchRow& row : rows)
        page.link("/look?who=" + row.who + "&lesson=" + query_text(row.stem), row.who + ": " + row.stem);
    page.heading(2, "The address of the class");
    page.paragraph(class_address, "address");
    page.picture(qr_svg, PictureWidth::own, "");
    page.heading(2, "Sheets with the answers");
    for (const ListedLesson& lesson : lessons) {
        if (lesson.problem.empty())
            page.link("/sheet?lesson=" + query_text(lesson.stem), lesson.title.empty() ? lesson.stem : lesson.title);
        else
            page.labelled(lesson.stem, lesson.problem, "bad");
    }
    if (jobs) page.link("/jobs", "Jobs");
    return page.file("The class", "", PageForms::to_own_server, seconds_of_class);
}

std::string look_page(const LearnerBench& bench) {
    HtmlPage page;
    page.heading(1, bench.who() + ": " + bench.run().exercise().lesson.title);
    page.paragraph(bench.standing(), "quiet");
    if (const auto debrief = bench.debrief()) page.lines(*debrief);
    write_turns(page, bench, bench.turns().size());
    page.link("/", "The class");
    return page.file("A bench", "", PageForms::to_own_server);
}

std::string sheet_page(const std::string& title, const std::string& sheet) {
    HtmlPage page;
    page.heading(1, title);
    page.lines(sheet);
    page.link("/", "The class");
    return page.file(title, "", PageForms::to_own_server);
}

}  // namespace voltfall
