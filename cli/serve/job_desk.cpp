#include "cli/serve/job_desk.hpp"

#include <algorithm>
#include <utility>

#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

std::string field_of(const HttpRequest& request, const std::string& name) {
    const auto found = request.form.find(name);
    return found == request.form.end() ? std::string() : found->second;
}

std::string first_problem(const Problems& problems) {
    for (const Problem& problem : problems.list()) {
        if (problem.severity != Severity::error) continue;
        return problem.suggestion.empty() ? problem.message : problem.message + "; " + problem.suggestion;
    }
    return "it cannot be read";
}

}  // namespace

JobDesk::JobDesk(std::string file, Weigh weigh) : file_(std::move(file)), weigh_(std::move(weigh)) {}

HttpResponse JobDesk::answer(const HttpRequest& request) {
    const bool post = request.method == "POST";
    if (request.path == "/" && !post) return show();
    if (request.path == "/answer" && post) return take_answer(request);
    if (request.path == "/undo" && post) return undo(request);
    return refused(404, "There is no such page; the job stands at /.");
}

HttpResponse JobDesk::show() {
    const JobReading reading = read_job_file(file_);
    if (!reading.job)
        return refused(500, file_ + ": " + first_problem(reading.problems) + ". Mend the file, then reload.");
    JobPage page;
    page.view = weigh_(reading.circuit, *reading.job);
    for (const TestProposal& test : page.view.next.tests) {
        const std::string phrase = write_test(*reading.circuit, test.test);
        if (std::find(skipped_.begin(), skipped_.end(), phrase) != skipped_.end()) continue;
        page.asked = &test;
        page.asked_phrase = phrase;
        break;
    }
    page.message = std::exchange(message_, {});
    page.typed = std::exchange(typed_, {});
    if (!reading.job->readings.empty()) {
        page.last_key = reading.job->readings.back().id;
        page.last_reading = reading.job->readings.back().text;
    }
    page.turn = std::to_string(next_turn_++);
    HttpResponse response;
    response.body = job_page(page);
    return response;
}

/// A page sends its answer once; a second press or a reload changes nothing.
bool JobDesk::is_new_turn(const HttpRequest& request) {
    const std::string turn = field_of(request, "turn");
    return turn.empty() || turns_.insert(turn).second;
}

std::shared_ptr<const Circuit> JobDesk::circuit() {
    return read_job_file(file_).circuit;
}

HttpResponse JobDesk::take_answer(const HttpRequest& request) {
    if (!is_new_turn(request)) return see_other("/");
    const std::string test = field_of(request, "test");
    if (field_of(request, "do") == "skip") {
        skipped_.push_back(test);
        return see_other("/");
    }
    const std::string reading = field_of(request, "reading");
    const std::string value = field_of(request, "value");
    if (reading.empty() && value.empty()) return see_other("/");
    std::string phrase = reading;
    if (phrase.empty()) {
        Problems ignored;
        const auto of = circuit();
        const auto asked = of ? read_test_phrase(TypedText::argument("test", test), *of, ignored) : std::nullopt;
        const auto answered = asked ? reading_of_answer(*of, *asked, value) : std::nullopt;
        phrase = answered.value_or(value);
    }
    keep(phrase);
    return see_other("/");
}

void JobDesk::keep(const std::string& phrase) {
    const StoredReading stored = store_reading(file_, TypedText::argument("reading", phrase));
    tell(stored, "Kept as reading " + stored.key + ": " + phrase);
    if (stored.key.empty()) typed_ = phrase;
}

HttpResponse JobDesk::undo(const HttpRequest& request) {
    if (!is_new_turn(request)) return see_other("/");
    const std::string key = field_of(request, "key");
    tell(remove_reading(file_, key), "Took out reading " + key);
    return see_other("/");
}

void JobDesk::tell(const StoredReading& stored, const std::string& done) {
    if (!stored.key.empty())
        message_ = done;
    else if (stored.failure)
        message_ = "Nothing was kept: " + stored.failure->message;
    else if (stored.phrase_problems.has_errors())
        message_ = "Nothing was kept: " + first_problem(stored.phrase_problems);
    else
        message_ = "Nothing was kept: " + first_problem(stored.file_problems);
}

}  // namespace voltfall
