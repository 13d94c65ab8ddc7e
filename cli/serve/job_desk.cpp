#include "cli/serve/job_desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "cli/report/workshop_sheet.hpp"
#include "cli/serve/qr_code.hpp"
#include "cli/views/problem_view.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/proof/tests_to_prove.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

/// Tells two states of a file apart.
std::string stamp_of(const std::string& text) {
    return fmt::format("{:016x}", std::hash<std::string>{}(text));
}

/// The stamp of the file as it is now; empty where it cannot be read.
std::string stamp_now(const std::string& file) {
    const auto text = read_whole_file(file);
    return text ? stamp_of(*text) : std::string();
}

}  // namespace

JobDesk::JobDesk(std::string file, Weigh weigh, Report report, Invite invite, std::string base)
    : file_(std::move(file)),
      base_(std::move(base)),
      weigh_(std::move(weigh)),
      report_(std::move(report)),
      invite_(std::move(invite)) {}

HttpResponse JobDesk::answer(const HttpRequest& request) {
    const bool post = request.method == "POST";
    Visit& visit = visits_[request.visitor.number];
    if (request.path == "/" && !post) return show(visit);
    if (request.path == "/news" && !post) return news(request);
    if (request.path == "/answer" && post) return take_answer(request, visit);
    if (request.path == "/repaired" && post) return take_repair(request, visit);
    if (request.path == "/report" && !post) return report();
    if (request.path == "/undo" && post) return undo(request, visit);
    if (request.path == "/invite" && post) return invite();
    return refused(404, "There is no such page; the job stands at " + base_ + "/.");
}

/// What has happened since this browser looked, other than by itself.
std::string JobDesk::news_for(const Visit& visit, const std::string& stamp) const {
    if (visit.seen.empty() || visit.seen == stamp) return {};
    return stamp == own_stamp_ ? "Another browser has changed the job; its readings count."
                               : "The job's file was changed by another program; what stands in it now counts.";
}

tl::expected<JobReading, HttpResponse> JobDesk::read(const std::string& text, const Visit& visit) const {
    JobReading reading = read_job_text(text, file_);
    if (reading.job) return reading;
    return tl::unexpected(
        refused(500, file_ + ": " + first_problem(reading.problems) + ". Mend the file, then reload. " + visit.message,
                visit.typed));
}

/// The first test that this browser has not left out: of what proves the repair, once something is mended.
std::optional<AskedTest> JobDesk::asked(const JobPage& page, const Visit& visit) {
    const Circuit& circuit = *page.view.circuit;
    const auto is_skipped = [&](const std::string& phrase) {
        return std::find(visit.skipped.begin(), visit.skipped.end(), phrase) != visit.skipped.end();
    };
    if (page.view.proof && !page.view.still_faulty) {
        for (Test& test : tests_to_prove(circuit, *page.view.proof)) {
            std::string phrase = write_test(circuit, test);
            if (is_skipped(phrase)) continue;
            AskedTest asked{std::move(test), std::move(phrase), {}, page.view.proof->cautions, {}};
            // The page says so at its foot.
            std::erase(asked.cautions, makers_procedure);
            return asked;
        }
        return std::nullopt;
    }
    for (const TestProposal& test : page.view.next.tests) {
        std::string phrase = write_test(circuit, test.test);
        if (!is_skipped(phrase))
            return AskedTest{test.test, std::move(phrase), cost_and_power(test), test.caution, test.expect};
    }
    return std::nullopt;
}

LastKept JobDesk::last_kept(const Job& job, const Visit& visit) {
    if (job.after.empty() && !job.repaired.empty()) {
        const Repaired& repaired = job.repaired.back();
        return {"what was mended", repaired.place, repaired.words};
    }
    const std::vector<Reading>& readings = is_mended(job) ? job.after : job.readings;
    if (readings.empty()) return {};
    const Reading& last = readings.back();
    const bool many = visit.together.size() > 1 && visit.together.back() == last.id;
    return {many ? "readings " + joined(visit.together) : "reading " + last.id, last.id, last.text};
}

HttpResponse JobDesk::show(Visit& visit) {
    const auto text = read_whole_file(file_);
    if (!text) {
        const HttpResponse lost =
            refused(500, text.error().message + ". Put the file back, then reload. " + visit.message, visit.typed);
        visit.message.clear();
        visit.typed.clear();
        return lost;
    }
    const auto reading = read(*text, visit);
    JobPage page;
    page.base = base_;
    page.message = std::exchange(visit.message, {});
    page.typed = std::exchange(visit.typed, {});
    if (!reading) return reading.error();
    page.view = weigh_(reading->circuit, *reading->job);
    page.asked = asked(page, visit);
    page.left_out = !page.asked && !visit.skipped.empty();
    page.stamp = stamp_of(*text);
    page.news = news_for(visit, page.stamp);
    visit.seen = page.stamp;
    page.last = last_kept(*reading->job, visit);
    page.turn = std::to_string(next_turn_++);
    HttpResponse response;
    response.body = job_page(page);
    return response;
}

HttpResponse JobDesk::report() const {
    const auto text = read_whole_file(file_);
    if (!text) return refused(500, text.error().message + ". Put the file back, then reload.");
    const auto reading = read(*text, {});
    if (!reading) return reading.error();
    HttpResponse response;
    response.body = report_(reading->circuit, *reading->job);
    return response;
}

/// A frame of the page that looks again by itself: it needs no script, and what is being typed stays.
HttpResponse JobDesk::news(const HttpRequest& request) const {
    const std::string now = stamp_now(file_);
    HttpResponse response;
    response.in_frame = true;
    response.body = news_page(base_, now == query_of(request, "seen") ? ""
                                     : now.empty()                    ? "The job's file cannot be read."
                                                                      : "The job has changed.");
    return response;
}

HttpResponse JobDesk::invite() const {
    const std::string address = invite_();
    HttpResponse response;
    response.body = invite_page(base_, address, qr_svg(qr_modules(address)));
    return response;
}

/// A page sends its answer once; a second press or a reload changes nothing.
bool JobDesk::is_new_turn(const HttpRequest& request) {
    const std::string typed = field_of(request, "turn");
    unsigned long turn = 0;
    const auto read = std::from_chars(typed.data(), typed.data() + typed.size(), turn);
    constexpr std::size_t most_turns = 100'000;
    if (read.ec != std::errc()) return true;
    if (turns_.size() > most_turns) turns_.erase(turns_.begin());
    return turns_.insert(turn).second;
}

HttpResponse JobDesk::take_answer(const HttpRequest& request, Visit& visit) {
    const std::string test = field_of(request, "test");
    if (!is_new_turn(request)) {
        // Pressed twice in a row: what the first press did is what there is to tell.
        if (visit.message.empty()) visit.message = "That page has been answered already; nothing was kept twice.";
        return see_other(base_ + "/");
    }
    if (field_of(request, "do") == "skip") {
        visit.skipped.push_back(test);
        return see_other(base_ + "/");
    }
    if (field_of(request, "do") == "again") {
        visit.skipped.clear();
        return see_other(base_ + "/");
    }
    const std::vector<std::string> phrases = phrases_of(request, visit);
    if (!phrases.empty()) keep(phrases, visit);
    return see_other(base_ + "/");
}

std::vector<std::string> JobDesk::phrases_of(const HttpRequest& request, Visit& visit) const {
    if (const std::string reading = field_of(request, "reading"); !reading.empty()) return {reading};
    Problems ignored;
    const auto circuit = read_job_file(file_).circuit;
    const auto asked = circuit
                           ? read_test_phrase(TypedText::argument("test", field_of(request, "test")), *circuit, ignored)
                           : std::nullopt;
    if (const std::string value = field_of(request, "value"); !value.empty()) {
        const auto answered = asked ? readings_of_answer(*circuit, *asked, value) : std::vector<std::string>{};
        if (answered.empty() && asked && is_bare_answer(value)) {
            visit.message = "Nothing was kept: " + not_answered(*circuit, *asked, value);
            return {};
        }
        return answered.empty() ? std::vector{value} : answered;
    }
    if (!asked || !asks_of_positions(*asked)) return {};
    // A word for each position, from the card's own lists.
    const auto& positions = asked->state.settings.back().positions;
    std::string line;
    for (std::size_t i = 0; i < positions.size(); ++i) {
        const std::string word = field_of(request, fmt::format("at{}", i));
        const Part& control = circuit->part(asked->state.settings.back().part);
        if (!word.empty()) line += fmt::format("{} {}, ", control.positions[positions[i]].name, word);
    }
    return line.empty() ? std::vector<std::string>{} : readings_of_answer(*circuit, *asked, line);
}

void JobDesk::keep(const std::vector<std::string>& phrases, Visit& visit) {
    const JobReading now = read_job_file(file_);
    const RepairStage stage = now.job && is_mended(*now.job) ? RepairStage::after : RepairStage::before;
    const StoredReading stored = store_readings(file_, phrases, stage);
    const std::string what = stored.keys.size() > 1 ? "readings " : "reading ";
    tell(stored, "Kept as " + what + joined(stored.keys) + ": " + stored.phrase, visit);
    visit.together = stored.keys;
    if (stored.key.empty()) visit.typed = fmt::format("{}", fmt::join(phrases, "; "));
}

HttpResponse JobDesk::take_repair(const HttpRequest& request, Visit& visit) {
    if (!is_new_turn(request)) return see_other(base_ + "/");
    const bool nothing = field_of(request, "do") == "nothing";
    const std::string words = field_of(request, "repaired");
    if (!nothing && words.empty()) {
        visit.message = "Say where and what was done: C101.4 new terminal.";
        return see_other(base_ + "/");
    }
    const StoredReading stored = store_repair(file_, !nothing        ? words
                                                     : words.empty() ? "no fault found"
                                                                     : "nothing " + words);
    tell(stored, "Kept: " + stored.phrase + ". Readings count as taken after it from now on", visit);
    return see_other(base_ + "/");
}

HttpResponse JobDesk::undo(const HttpRequest& request, Visit& visit) {
    if (!is_new_turn(request)) return see_other(base_ + "/");
    const std::string key = field_of(request, "key");
    const JobReading now = read_job_file(file_);
    const bool of_repair = now.job && now.job->after.empty() && !now.job->repaired.empty();
    if (of_repair) {
        tell(remove_repair(file_, key), "Took out what was mended: " + key, visit);
        return see_other(base_ + "/");
    }
    const bool many = !visit.together.empty() && visit.together.back() == key;
    const std::vector<std::string> keys = many ? visit.together : std::vector{key};
    const RepairStage stage = now.job && is_mended(*now.job) ? RepairStage::after : RepairStage::before;
    tell(remove_readings(file_, keys, stage),
         (keys.size() > 1 ? "Took out readings " : "Took out reading ") + joined(keys), visit);
    visit.together.clear();
    return see_other(base_ + "/");
}

void JobDesk::tell(const StoredReading& stored, const std::string& done, Visit& visit) {
    if (!stored.key.empty()) {
        // What others have done meanwhile is told with it.
        const std::string news = news_for(visit, stamp_of(stored.text_before));
        visit.message = news.empty() ? done : done + ". " + news;
        visit.seen = own_stamp_ = stamp_of(stored.text_after);
    } else if (stored.failure) {
        visit.message = "Nothing was kept: " + stored.failure->message;
    } else if (stored.phrase_problems.has_errors()) {
        visit.message = "Nothing was kept: " + first_problem(stored.phrase_problems);
    } else {
        visit.message = "Nothing was kept: " + first_problem(stored.file_problems);
    }
}

}  // namespace voltfall
