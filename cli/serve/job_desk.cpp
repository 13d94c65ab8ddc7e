#include "cli/serve/job_desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "cli/serve/qr_code.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

std::string first_problem(const Problems& problems) {
    for (const Problem& problem : problems.list()) {
        if (problem.severity != Severity::error) continue;
        return problem.suggestion.empty() ? problem.message : problem.message + "; " + problem.suggestion;
    }
    return "it cannot be read";
}

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

JobDesk::JobDesk(std::string file, Weigh weigh, Invite invite)
    : file_(std::move(file)), weigh_(std::move(weigh)), invite_(std::move(invite)) {}

HttpResponse JobDesk::answer(const HttpRequest& request) {
    const bool post = request.method == "POST";
    Visit& visit = visits_[request.visitor.number];
    if (request.path == "/" && !post) return show(visit);
    if (request.path == "/news" && !post) return news(request);
    if (request.path == "/answer" && post) return take_answer(request, visit);
    if (request.path == "/undo" && post) return undo(request, visit);
    if (request.path == "/invite" && post) return invite();
    return refused(404, "There is no such page; the job stands at /.");
}

/// What has happened since this browser looked, other than by itself.
std::string JobDesk::news_for(const Visit& visit, const std::string& stamp) const {
    if (visit.seen.empty() || visit.seen == stamp) return {};
    return stamp == own_stamp_ ? "Another browser has changed the job; its readings count."
                               : "The job's file was changed by another program; what stands in it now counts.";
}

HttpResponse JobDesk::show(Visit& visit) {
    const std::string typed = std::exchange(visit.typed, {});
    const std::string message = std::exchange(visit.message, {});
    const auto text = read_whole_file(file_);
    if (!text) return refused(500, text.error().message + ". Put the file back, then reload. " + message, typed);
    const JobReading reading = read_job_text(*text, file_);
    if (!reading.job)
        return refused(500, file_ + ": " + first_problem(reading.problems) + ". Mend the file, then reload. " + message,
                       typed);
    JobPage page;
    page.view = weigh_(reading.circuit, *reading.job);
    for (const TestProposal& test : page.view.next.tests) {
        const std::string phrase = write_test(*reading.circuit, test.test);
        if (std::find(visit.skipped.begin(), visit.skipped.end(), phrase) != visit.skipped.end()) continue;
        page.asked = &test;
        page.asked_phrase = phrase;
        break;
    }
    page.stamp = stamp_of(*text);
    page.news = news_for(visit, page.stamp);
    visit.seen = page.stamp;
    page.message = message;
    page.typed = typed;
    if (!reading.job->readings.empty()) {
        page.last_key = reading.job->readings.back().id;
        page.last_reading = reading.job->readings.back().text;
    }
    page.turn = std::to_string(next_turn_++);
    HttpResponse response;
    response.body = job_page(page);
    return response;
}

/// A frame of the page that looks again by itself: it needs no script, and what is being typed stays.
HttpResponse JobDesk::news(const HttpRequest& request) const {
    const std::string now = stamp_now(file_);
    HttpResponse response;
    response.in_frame = true;
    response.body = news_page(now == query_of(request, "seen") ? ""
                              : now.empty()                    ? "The job's file cannot be read."
                                                               : "The job has changed.");
    return response;
}

HttpResponse JobDesk::invite() const {
    const std::string address = invite_();
    HttpResponse response;
    response.body = invite_page(address, qr_svg(qr_modules(address)));
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
    const std::string reading = field_of(request, "reading");
    const std::string value = field_of(request, "value");
    if (!is_new_turn(request)) {
        // Pressed twice in a row: what the first press did is what there is to tell.
        if (visit.message.empty()) visit.message = "That page has been answered already; nothing was kept twice.";
        return see_other("/");
    }
    if (field_of(request, "do") == "skip") {
        visit.skipped.push_back(test);
        return see_other("/");
    }
    if (reading.empty() && value.empty()) return see_other("/");
    std::string phrase = reading;
    if (phrase.empty()) {
        Problems ignored;
        const auto of = read_job_file(file_).circuit;
        const auto asked = of ? read_test_phrase(TypedText::argument("test", test), *of, ignored) : std::nullopt;
        const auto answered = asked ? reading_of_answer(*of, *asked, value) : std::nullopt;
        phrase = answered.value_or(value);
    }
    keep(phrase, visit);
    return see_other("/");
}

void JobDesk::keep(const std::string& phrase, Visit& visit) {
    const StoredReading stored = store_reading(file_, TypedText::argument("reading", phrase));
    tell(stored, "Kept as reading " + stored.key + ": " + stored.phrase, visit);
    if (stored.key.empty()) visit.typed = phrase;
}

HttpResponse JobDesk::undo(const HttpRequest& request, Visit& visit) {
    if (!is_new_turn(request)) return see_other("/");
    const std::string key = field_of(request, "key");
    tell(remove_reading(file_, key), "Took out reading " + key, visit);
    return see_other("/");
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
