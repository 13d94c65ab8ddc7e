// `read JOB` alone: the next test, its answer, and so on, at the vehicle.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "cli/commands/inputs.hpp"
#include "cli/commands/line_input.hpp"
#include "cli/commands/read.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/problem_view.hpp"
#include "cli/views/proof_view.hpp"
#include "cli/views/read_view.hpp"
#include "engine/courses/dictionary.hpp"
#include "engine/diagnosis/job_at_hand.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/planning/reading_effect.hpp"
#include "engine/proof/tests_to_prove.hpp"
#include "netlists/files/job_store.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/lists.hpp"
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
        options_.two_where_one_fits_poorly = true;
    }

    void hold() {
        TextPage intro(answer_style(console_));
        if (!job_->concern.empty()) intro.labelled("concern:", job_->concern, 0);
        intro.paragraph(fmt::format("{} kept in {}; help tells what may be typed",
                                    counted(job_->readings.size(), "reading"), file_));
        show(intro);
        consider();
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
        if (says_repaired(word)) return keep_repair(line);
        constexpr std::string_view other = "other ";
        keep(word.starts_with(other) ? line.substr(other.size()) : line, !word.starts_with(other));
    }

    void help() {
        TextPage page(answer_style(console_));
        page.labelled("a value", "10.3, 10,3 V, 2.2ohm, open, dead, bright: the answer to the test asked for", 2);
        page.labelled("a reading", "hi  M1.1 to B1-  10.3V: anything else that was measured or seen", 2);
        page.labelled("other", "the same, where it could be taken for an answer", 2);
        page.labelled("repaired", "C101.4 new terminal: what was mended; readings after it prove it", 2);
        page.labelled("skip", "another test; cannot reach does the same", 2);
        page.labelled("undo", "takes the last one kept here out of the file", 2);
        page.labelled("list", "the readings so far, and what was mended", 2);
        page.labelled("quit", "ends; every reading is kept already", 2);
        show(page);
    }

    /// Once something is mended, what is read is read after it.
    bool is_mended() const { return !job_->repaired.empty() || !job_->after.empty(); }
    RepairStage stage() const { return is_mended() ? RepairStage::after : RepairStage::before; }

    /// A line that tells of the repair, in a person's words: "repaired C101.4", "replaced the pack R1", "no fault
    /// found".
    static bool says_repaired(const std::string& word) {
        static constexpr std::array<std::string_view, 6> ways{"repaired ", "replaced ",      "renewed ",
                                                              "mended ",   "no fault found", "nothing found"};
        return std::any_of(ways.begin(), ways.end(), [&](std::string_view way) { return word.starts_with(way); });
    }

    bool is_skipped(const Test& test) const {
        return std::find(skipped_.begin(), skipped_.end(), test) != skipped_.end();
    }

    const TestProposal* proposed() const {
        const auto open = std::find_if(next_.tests.begin(), next_.tests.end(),
                                       [&](const TestProposal& test) { return !is_skipped(test.test); });
        return open == next_.tests.end() ? nullptr : &*open;
    }

    /// The test whose answer is waited for; null where there is none.
    const Test* asked() const {
        if (proof_ && !still_faulty()) {
            const auto open =
                std::find_if(to_prove_.begin(), to_prove_.end(), [&](const Test& test) { return !is_skipped(test); });
            return open == to_prove_.end() ? nullptr : &*open;
        }
        const TestProposal* test = proposed();
        return test == nullptr ? nullptr : &test->test;
    }

    void show_next() {
        if (proof_) return show_proof();
        show_proposed();
    }

    void show_proposed() {
        TextPage page(answer_style(console_));
        const TestProposal* test = proposed();
        if (next_.stop) {
            write_stop(page, *next_.stop);
            page.gap();
            page.paragraph("when it is mended, say so: repaired " +
                           (next_.stop->repairs.empty() ? std::string("PLACE") : next_.stop->repairs.front()) +
                           " and what was done, or no fault found");
        }
        if (test != nullptr) {
            write_asked(page, *test, write_test(*circuit_, test->test), how_asked(*circuit_, test->test));
        } else if (!next_.stop) {
            page.gap();
            page.paragraph("no further test at hand tells the suspects apart");
        }
        show(page);
    }

    /// What the readings after the repair prove, and the test that is missing.
    void show_proof() {
        if (proof_->proved) return write_out(console_, proof_text({*proof_, ""}, answer_style(console_)));
        TextPage page(answer_style(console_));
        page.paragraph(verdict_of(*proof_), 0, 2, Tone::bad);
        for (const ProofCheck& check : proof_->checks) {
            if (check.result == CheckResult::failed)
                page.labelled(
                    word_of(check.result),
                    check.what + ": " + (check.why.empty() ? check.after + " and not " + check.limit : check.why), 0,
                    Tone::bad);
        }
        if (still_faulty()) {
            show(page);
            return show_proposed();
        }
        if (const Test* test = asked()) {
            page.gap();
            for (const std::string& caution : proof_->cautions)
                if (caution != makers_procedure)
                    page.labelled(caution_word(caution), without_mark(caution), 0, Tone::caution);
            page.paragraph("next, after the repair: " + write_test(*circuit_, *test), 0, 2, Tone::heading);
            if (const std::string how = how_asked(*circuit_, *test); !how.empty()) page.paragraph(how, 2);
        } else {
            page.paragraph("no test at hand closes what is open: voltfall prove " + file_ + " tells what would");
        }
        show(page);
    }

    void skip() {
        const Test* test = asked();
        if (test == nullptr) return tell("there is no test to skip", Tone::caution);
        skipped_.push_back(*test);
        show_next();
    }

    void keep(const std::string& line, bool may_be_answer) {
        const Test* test = asked();
        std::vector<std::string> phrases;
        if (may_be_answer && test != nullptr) phrases = readings_of_answer(*circuit_, *test, line);
        if (phrases.empty() && may_be_answer && test != nullptr && is_bare_answer(line))
            return say(console_, not_answered(*circuit_, *test, line));
        if (phrases.empty()) phrases = {line};
        take(store_readings(file_, phrases, stage()), stage() == RepairStage::after ? Kept::after : Kept::before);
    }

    void keep_repair(const std::string& line) {
        const std::string_view named = "repaired ";
        const bool bare = lower(line).starts_with(named);
        take(store_repair(file_, bare ? line.substr(named.size()) : line), Kept::repair);
    }

    void undo() {
        if (kept_.empty()) return tell("nothing was kept here yet that could be taken back", Tone::caution);
        const KeptHere last = kept_.back();
        kept_.pop_back();
        StoredReading removed =
            last.as == Kept::repair
                ? remove_repair(file_, last.keys.front())
                : remove_readings(file_, last.keys, last.as == Kept::after ? RepairStage::after : RepairStage::before);
        removed.phrase = last.phrase;
        take(removed, last.as, true);
    }

    /// What a line of this conversation has put into the file.
    enum class Kept { before, repair, after };
    struct KeptHere {
        Kept as;
        std::vector<std::string> keys;
        std::string phrase;
    };

    /// After a change of the file: what it did to the suspects or to the proof, and the next test.
    void take(const StoredReading& stored, Kept as, bool taken_back = false) {
        if (stored.key.empty()) {
            (void)say_not_stored(console_, stored, file_);
            return;
        }
        if (!taken_back) kept_.push_back({as, stored.keys, stored.phrase});
        // Another program may have changed the file meanwhile: its readings count too.
        job_ = stored.after;
        if (as != Kept::before || is_mended()) {
            TextPage page(answer_style(console_));
            page.paragraph(fmt::format("{} {}", taken_back ? "took out" : "kept", stored.phrase));
            show(page);
            consider();
            return show_next();
        }
        ReadView view{file_, stored.keys, stored.phrase, taken_back, {}};
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
        for (const Repaired& repaired : job_->repaired)
            page.labelled("repaired", repaired.place + ": " + repaired.words, 2);
        for (const Reading& reading : job_->after)
            page.labelled("after it " + reading.id, write_reading(*circuit_, reading), 2);
        if (job_->readings.empty()) page.paragraph("no reading yet");
        show(page);
    }

    /// What to do next with the job as it stands.
    void consider() {
        Progress progress(console_, "");
        MatchOptions options = options_;
        options.progress = progress.report();
        const Job job = with_own_tools(*job_, console_);
        proof_.reset();
        to_prove_.clear();
        if (!is_mended()) {
            next_ = next_tests(console_.sweep(), *circuit_, job, options);
            return;
        }
        proof_ = prove(console_.sweep(), *circuit_, job, options);
        to_prove_ = tests_to_prove(*circuit_, *proof_);
        // What the repair has not brought back is looked for with all that was read.
        if (still_faulty()) next_ = next_tests(console_.sweep(), *circuit_, job_at_hand(job), options);
    }

    bool still_faulty() const { return proof_ && !job_->repaired.empty() && is_still_faulty(*proof_); }

    Console& console_;
    std::string file_;
    std::shared_ptr<const Circuit> circuit_;
    std::shared_ptr<const Job> job_;
    Dictionary dictionary_;
    MatchOptions options_;
    LineInput input_;
    NextAnswer next_;
    std::optional<ProofAnswer> proof_;  ///< once something is mended
    std::vector<Test> to_prove_;
    std::vector<Test> skipped_;
    std::vector<KeptHere> kept_;
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
