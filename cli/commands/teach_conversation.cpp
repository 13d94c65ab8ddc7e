#include "cli/commands/teach.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <istream>
#include <ostream>
#include <set>

#include "cli/commands/line_input.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/problem_view.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/teach_view.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class Conversation {
public:
    Conversation(Console& console, LearnerRun& run, const RunOptions& options)
        : console_(console),
          run_(run),
          options_(options),
          style_(answer_style(console)),
          silent_(console.options.format != Format::text),
          input_(console, !silent_) {}

    void hold() {
        TextPage intro(style_);
        write_intro(intro, run_.exercise(), options_.commit);
        show(intro);
        while (run_.end() == RunEnd::open) {
            const auto line = input_.next(prompt());
            if (!line) break;
            if (!line->empty() && line->front() != '#') answer(*line);
        }
        if (run_.end() != RunEnd::open) return;
        if (!silent_) console_.out << "the input has ended: given up\n";
        run_.give_up();
    }

private:
    void show(const TextPage& page) {
        if (!silent_) console_.out << page.text() << std::flush;
    }
    void tell(std::string_view text, Tone tone = Tone::plain) {
        TextPage page(style_);
        page.paragraph(text, 2, 2, tone);
        show(page);
    }
    std::string prompt() const {
        return fmt::format("\n[{}; {}] > ", shown_minutes(run_.bench().bill().minutes()), run_.bench().settings());
    }

    void answer(const std::string& line) {
        const std::string word = lower(line.substr(0, line.find_first_of(" \t:")));
        const bool alone = line.find_first_of(" \t") == std::string::npos;
        if (alone && answer_word(word)) return;
        if (word == "suspect") return answer_suspect(std::string(trimmed(std::string_view(line).substr(word.size()))));
        act(line);
    }

    /// Words that stand for themselves.
    bool answer_word(const std::string& word) {
        TextPage page(style_);
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
        show(page);
        return true;
    }

    void write_bill(TextPage& page) const {
        const BenchBill& bill = run_.bench().bill();
        page.labelled(
            "minutes",
            fmt::format("{} of tests, {} of repair; the budget is {}", shown_minutes(bill.test_minutes),
                        shown_minutes(bill.repair_minutes), shown_minutes(run_.exercise().lesson.budget_minutes)),
            2);
        page.labelled("parts", bill.parts.empty() ? "none" : joined(bill.parts, ", "), 2);
        page.labelled("set", run_.bench().settings(), 2);
    }

    void give_hint(TextPage& page) {
        const int level = run_.exercise().lesson.level;
        if (level == 3) return page.paragraph("no hints at level 3", 2, 2, Tone::caution);
        const auto hint = run_.hint();
        page.paragraph(hint ? "hint: " + *hint : "there are no more hints", 2, 2, Tone::quiet);
    }

    void answer_suspect(const std::string& rest) {
        const auto colon = rest.find(':');
        const std::string name(trimmed(std::string_view(rest).substr(0, colon)));
        auto section = find_section(*run_.exercise().circuit, name);
        if (!section) {
            tell(fmt::format(
                     "'{}' is nothing of this circuit: name a part, plug or wire, or one of supply, feed, return, "
                     "load, control, pack, nothing",
                     name),
                 Tone::caution);
            return;
        }
        run_.suspect(*std::move(section));
        if (colon == std::string::npos) return tell("suspect " + run_.next_suspect()->name);
        const std::string test(trimmed(std::string_view(rest).substr(colon + 1)));
        if (!test.empty()) act(test);
    }

    void act(const std::string& line) {
        TextPage page(style_);
        Problems problems;
        const auto action =
            read_action_phrase(TypedText::argument("your line", line), *run_.exercise().circuit, problems);
        if (!action) {
            write_problem(page, problems, line);
            return show(page);
        }
        if (run_.needs_suspect(*action) && !run_.next_suspect()) {
            tell(run_.last_suspect() ? fmt::format("first your suspect: same ({}), or suspect feed: {}",
                                                   run_.last_suspect()->name, line)
                                     : fmt::format("first your suspect, then the test: suspect feed: {}", line),
                 Tone::caution);
            return;
        }
        const RunStep& step = run_.act(*action);
        // A caution stands before the first step that it belongs to; said again and again it is not read.
        for (const std::string& caution : step.outcome.cautions) {
            if (cautioned_.insert(caution).second) 
                page.labelled(caution_word(caution), without_mark(caution), 2, Tone::caution);
        }
        write_step(page, step, run_.exercise(), options_.weigh && run_.exercise().lesson.coach);
        show(page);
    }

    /// The first problem alone: a conversation is no file.
    static void write_problem(TextPage& page, const Problems& problems, const std::string& line) {
        for (const Problem& problem : problems.list()) {
            if (problem.severity != Severity::error) continue;
            page.paragraph(problem.message + (problem.suggestion.empty() ? "" : "; " + problem.suggestion), 2, 2,
                           Tone::caution);
            return;
        }
        page.paragraph("'" + line + "' is not understood; help lists the words", 2, 2, Tone::caution);
    }

    Console& console_;
    LearnerRun& run_;
    const RunOptions& options_;
    PageStyle style_;
    bool silent_;
    LineInput input_;
    std::set<std::string> cautioned_;
};

}  // namespace

void hold_conversation(Console& console, LearnerRun& run, const RunOptions& options) {
    Conversation(console, run, options).hold();
}

}  // namespace voltfall
