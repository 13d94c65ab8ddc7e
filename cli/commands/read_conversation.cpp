// `read JOB` alone: the next test, its answer, and so on, at the vehicle.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "cli/commands/inputs.hpp"
#include "cli/commands/line_input.hpp"
#include "cli/commands/read.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/problem_view.hpp"
#include "cli/views/read_view.hpp"
#include "engine/courses/dictionary.hpp"
#include "engine/planning/reading_effect.hpp"
#include "netlists/files/job_store.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class JobConversation {
public:
    JobConversation(Console& console, std::string file, const JobReading& job)
        : console_(console),
          file_(std::move(file)),
          circuit_(job.circuit),
          job_(job.job),
          dictionary_(console.sweep(), *job.circuit),
          input_(console) {
        options_.workers = workers_of(console);
        options_.dictionary = &dictionary_;
    }

    void hold() {
        TextPage intro(answer_style(console_));
        if (!job_->concern.empty()) intro.labelled("concern:", job_->concern, 0);
        intro.paragraph(fmt::format("{} kept in {}; help tells what may be typed",
                                    counted(job_->readings.size(), "reading"), file_));
        show(intro);
        next_ = propose();
        show_next();
        while (const auto line = input_.next("\nreading> ")) {
            const std::string word = lower(*line);
            if (line->empty()) continue;
            if (word == "quit" || word == "exit" || word == "end") break;
            answer(*line, word);
        }
    }

private:
    void show(const TextPage& page) { write_out(console_, page.text()); }
    void tell(std::string_view text, Tone tone = Tone::plain) {
        TextPage page(answer_style(console_));
        page.paragraph(text, 0, 2, tone);
        show(page);
    }

    void answer(const std::string& line, const std::string& word) {
        if (word == "help" || word == "?") return help();
        if (word == "skip" || word == "cannot reach" || word == "cannot") return skip();
        if (word == "undo") return undo();
        if (word == "list") return list();
        constexpr std::string_view other = "other ";
        keep(word.starts_with(other) ? line.substr(other.size()) : line, !word.starts_with(other));
    }

    void help() {
        TextPage page(answer_style(console_));
        page.labelled("a value", "10.3, 10,3 V, 2.2ohm, open, dead, bright: the answer to the test asked for", 2);
        page.labelled("a reading", "hi  M1.1 to B1-  10.3V: anything else that was measured or seen", 2);
        page.labelled("other", "the same, where it could be taken for an answer", 2);
        page.labelled("skip", "another test; cannot reach does the same", 2);
        page.labelled("undo", "takes the last reading out of the file", 2);
        page.labelled("list", "the readings so far", 2);
        page.labelled("quit", "ends; every reading is kept already", 2);
        show(page);
    }

    const TestProposal* asked() const {
        const auto open = std::find_if(next_.tests.begin(), next_.tests.end(), [&](const TestProposal& test) {
            return std::find(skipped_.begin(), skipped_.end(), test.test) == skipped_.end();
        });
        return open == next_.tests.end() ? nullptr : &*open;
    }

    void show_next() {
        TextPage page(answer_style(console_));
        if (next_.stop) write_stop(page, *next_.stop);
        const TestProposal* test = asked();
        if (test != nullptr) {
            write_asked(page, *test, write_test(*circuit_, test->test));
        } else if (!next_.stop) {
            page.gap();
            page.paragraph("no further test at hand tells the suspects apart");
        }
        show(page);
    }

    void skip() {
        const TestProposal* test = asked();
        if (test == nullptr) return tell("there is no test to skip", Tone::caution);
        skipped_.push_back(test->test);
        show_next();
    }

    void keep(const std::string& line, bool may_be_answer) {
        const TestProposal* test = asked();
        std::optional<std::string> phrase;
        if (may_be_answer && test != nullptr) phrase = reading_of_answer(*circuit_, test->test, line);
        const StoredReading stored = store_reading(file_, TypedText::argument("reading", phrase.value_or(line)));
        take(stored, stored.phrase, false);
    }

    void undo() {
        if (kept_.empty()) return tell("nothing was kept here yet that could be taken back", Tone::caution);
        const auto [key, phrase] = kept_.back();
        kept_.pop_back();
        take(remove_reading(file_, key), phrase, true);
    }

    /// After a change of the file: what it did to the suspects, and the next test.
    void take(const StoredReading& stored, const std::string& phrase, bool taken_back) {
        if (stored.key.empty()) {
            (void)say_not_stored(console_, stored, file_);
            return;
        }
        if (!taken_back) kept_.emplace_back(stored.key, phrase);
        // Another program may have changed the file meanwhile: its readings count too.
        job_ = stored.after;
        ReadView view{file_, stored.key, phrase, taken_back, {}, {}};
        view.answer = answer_reading(console_.sweep(), *circuit_, with_own_tools(*stored.before, console_),
                                     with_own_tools(*stored.after, console_), options_);
        next_ = view.answer.next;
        TextPage page(answer_style(console_));
        write_effect(page, view);
        show(page);
        show_next();
    }

    void list() {
        TextPage page(answer_style(console_));
        for (const Reading& reading : job_->readings) page.labelled(reading.id, write_reading(*circuit_, reading), 2);
        if (job_->readings.empty()) page.paragraph("no reading yet");
        show(page);
    }

    NextAnswer propose() {
        Progress progress(console_, "");
        MatchOptions options = options_;
        options.progress = progress.report();
        return next_tests(console_.sweep(), *circuit_, with_own_tools(*job_, console_), options);
    }

    Console& console_;
    std::string file_;
    std::shared_ptr<const Circuit> circuit_;
    std::shared_ptr<const Job> job_;
    Dictionary dictionary_;
    MatchOptions options_;
    LineInput input_;
    NextAnswer next_;
    std::vector<Test> skipped_;
    std::vector<std::pair<std::string, std::string>> kept_;  ///< key and phrase of what was kept here
};

}  // namespace

ExitStatus read_in_turn(Console& console, const std::string& file) {
    const JobReading job = read_job_file(file);
    report_problems(console, job.problems, file);
    if (!job.job) return ExitStatus::file_errors;
    if (job.job->path == job.job->circuit_path) {
        say(console, file + " is a circuit; readings are kept in a job file",
            "voltfall new --job " + file + " -o FILE begins one");
        return ExitStatus::usage;
    }
    JobConversation(console, file, job).hold();
    return ExitStatus::done;
}

}  // namespace voltfall
