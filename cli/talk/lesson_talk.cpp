#include "cli/talk/lesson_talk.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/teach_view.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// The first problem alone: a conversation is no file.
void write_problem(TextPage& page, const Problems& problems, const std::string& line) {
    for (const Problem& problem : problems.list()) {
        if (problem.severity != Severity::error) continue;
        page.paragraph(problem.message + (problem.suggestion.empty() ? "" : "; " + problem.suggestion), 2, 2,
                       Tone::caution);
        return;
    }
    page.paragraph("'" + line + "' is not understood; help lists the words", 2, 2, Tone::caution);
}

}  // namespace

LessonTalk::LessonTalk(LearnerRun& run, RunOptions options, PageStyle style)
    : run_(run), options_(std::move(options)), style_(style) {}

std::string LessonTalk::intro() const {
    TextPage page(style_);
    write_intro(page, run_.exercise(), options_.commit);
    return page.text();
}

std::string LessonTalk::standing() const {
    return fmt::format("{}; {}", shown_minutes(run_.bench().bill().minutes()), run_.bench().settings());
}

std::string LessonTalk::tell(std::string_view text, Tone tone) const {
    TextPage page(style_);
    page.paragraph(text, 2, 2, tone);
    return page.text();
}

std::string LessonTalk::answer(const std::string& line) {
    if (line.empty() || line.front() == '#') return {};
    const std::string word = lower(line.substr(0, line.find_first_of(" \t:")));
    const bool alone = line.find_first_of(" \t") == std::string::npos;
    TextPage page(style_);
    if (alone && answer_word(word, page)) return page.text();
    if (word == "suspect") return answer_suspect(std::string(trimmed(std::string_view(line).substr(word.size()))));
    if (word == "same") return answer_same(std::string(trimmed(std::string_view(line).substr(word.size()))));
    return act(line);
}

/// Words that stand for themselves.
bool LessonTalk::answer_word(const std::string& word, TextPage& page) {
    if (word == "help" || word == "?") {
        write_bench_words(page, *run_.exercise().circuit, options_.commit);
    } else if (word == "points") {
        write_points(page, run_.bench());
    } else if (word == "map") {
        write_ways(page, *run_.exercise().circuit);
    } else if (word == "try") {
        write_tried(page, *run_.exercise().circuit, run_.try_every_position());
    } else if (word == "bill") {
        write_bill(page);
    } else if (word == "hint") {
        give_hint(page);
    } else if (word == "same") {
        if (!run_.same_suspect())
            page.paragraph("no suspect was named yet: suspect feed", 2, 2, Tone::caution);
        else
            page.paragraph("suspect " + run_.next_suspect()->name, 2);
    } else if (word == "done") {
        run_.hand_back();
    } else if (word == "quit") {
        run_.give_up();
    } else {
        return false;
    }
    return true;
}

void LessonTalk::write_bill(TextPage& page) const {
    const BenchBill& bill = run_.bench().bill();
    page.labelled("minutes",
                  fmt::format("{} of tests, {} of repair; the budget is {}", shown_minutes(bill.test_minutes),
                              shown_minutes(bill.repair_minutes), shown_minutes(run_.exercise().lesson.budget_minutes)),
                  2);
    page.labelled("parts", bill.parts.empty() ? "none" : joined(bill.parts, ", "), 2);
    page.labelled("set", run_.bench().settings(), 2);
}

void LessonTalk::give_hint(TextPage& page) {
    const int level = run_.exercise().lesson.level;
    if (level == 3) return page.paragraph("no hints at level 3", 2, 2, Tone::caution);
    const auto hint = run_.hint();
    page.paragraph(hint ? "hint: " + *hint : "there are no more hints", 2, 2, Tone::quiet);
}

std::string LessonTalk::answer_suspect(const std::string& rest) {
    const auto colon = rest.find(':');
    const std::string name(trimmed(std::string_view(rest).substr(0, colon)));
    auto section = find_section(*run_.exercise().circuit, name);
    if (!section) {
        return tell(fmt::format("'{}' is nothing of this circuit: name a part, plug or wire, or one of supply, feed, "
                                "return, load, control, pack, nothing",
                                name),
                    Tone::caution);
    }
    run_.suspect(*std::move(section));
    if (colon == std::string::npos) return tell("suspect " + run_.next_suspect()->name);
    const std::string test(trimmed(std::string_view(rest).substr(colon + 1)));
    return test.empty() ? std::string() : act(test);
}

/// `same: TEST`, the colon or not.
std::string LessonTalk::answer_same(const std::string& rest) {
    if (!run_.same_suspect()) return tell("no suspect was named yet: suspect feed", Tone::caution);
    const std::string test(trimmed(std::string_view(rest).substr(rest.starts_with(':') ? 1 : 0)));
    return test.empty() ? tell("suspect " + run_.next_suspect()->name) : act(test);
}

std::string LessonTalk::act(const std::string& line) {
    TextPage page(style_);
    Problems problems;
    const auto action = read_action_phrase(TypedText::argument("your line", line), *run_.exercise().circuit, problems);
    if (!action) {
        write_problem(page, problems, line);
        return page.text();
    }
    if (run_.needs_suspect(*action) && !run_.next_suspect()) {
        return tell(run_.last_suspect() ? fmt::format("first your suspect: same: {} (that is {}), or suspect feed: {}",
                                                      line, run_.last_suspect()->name, line)
                                        : fmt::format("first your suspect, then the test: suspect feed: {}", line),
                    Tone::caution);
    }
    const RunStep& step = run_.act(*action);
    // A caution stands before the first step that it belongs to; said again and again it is not read.
    for (const std::string& caution : step.outcome.cautions) {
        if (cautioned_.insert(caution).second)
            page.labelled(caution_word(caution), without_mark(caution), 2, Tone::caution);
    }
    write_step(page, step, run_.exercise(), options_.weigh && run_.exercise().lesson.coach);
    return page.text();
}

}  // namespace voltfall
