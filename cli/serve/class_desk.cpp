#include "cli/serve/class_desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <utility>

#include "cli/serve/qr_code.hpp"
#include "engine/lessons/progress_file.hpp"
#include "netlists/files/lesson_file.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

HttpResponse page(std::string body) {
    HttpResponse response;
    response.body = std::move(body);
    return response;
}

std::string upper(std::string text) {
    for (char& c : text)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return text;
}

}  // namespace

DebriefWorker::DebriefWorker(Done done) : done_(std::move(done)), thread_([this] { work(); }) {}

DebriefWorker::~DebriefWorker() {
    {
        const std::lock_guard one_at_a_time(lock_);
        ends_ = true;
    }
    more_.notify_all();
    thread_.join();
}

void DebriefWorker::add(LearnerBench& bench) {
    {
        const std::lock_guard one_at_a_time(lock_);
        waiting_.push_back(&bench);
    }
    more_.notify_all();
}

void DebriefWorker::work() {
    for (;;) {
        LearnerBench* bench = nullptr;
        {
            std::unique_lock lock(lock_);
            more_.wait(lock, [this] { return ends_ || !waiting_.empty(); });
            if (ends_) return;
            bench = waiting_.front();
            waiting_.pop_front();
        }
        bench->work_out();
        done_(*bench);
    }
}

ClassDesk::ClassDesk(std::vector<std::string> lessons, std::string folder, Services services)
    : folder_(std::move(folder)), services_(std::move(services)), debriefs_(services_.done) {
    for (std::string& path : lessons) {
        const std::string stem = path_text(path_of(path).stem());
        Slot& slot = slots_[stem];
        slot.path = std::move(path);
        slot.listed.stem = stem;
        const LessonReading reading = read_lesson_file(slot.path);
        if (reading.lesson) {
            slot.listed.title = reading.lesson->title;
            slot.listed.level = reading.lesson->level;
            slot.listed.budget_minutes = reading.lesson->budget_minutes;
        } else {
            slot.listed.problem = "This lesson has errors; voltfall check " + slot.path + " shows them.";
        }
    }
}

HttpResponse ClassDesk::answer(const HttpRequest& request) {
    return request.visitor.role == Role::teacher ? answer_teacher(request) : answer_learner(request);
}

HttpResponse ClassDesk::answer_learner(const HttpRequest& request) {
    const bool post = request.method == "POST";
    Learner& learner = learners_[request.visitor.number];
    if (request.path == "/who" && post) return enter(request);
    if (learner.who.empty()) return post ? see_other("/") : page(who_page(std::exchange(learner.message, {})));
    if (request.path == "/" && !post) return page(lessons_page(learner.who, listed(learner.who), services_.jobs));
    if (request.path == "/bench" && !post) return show_bench(query_of(request, "lesson"), learner);
    if (request.path == "/line" && post) return take_line(request, learner);
    return refused(404, "There is no such page; the lessons stand at /.");
}

HttpResponse ClassDesk::enter(const HttpRequest& request) {
    Learner& learner = learners_[request.visitor.number];
    const std::string who = upper(std::string(trimmed(field_of(request, "who"))));
    if (!is_initials(who)) {
        learner.message = "Initials are one to four letters.";
        return see_other("/");
    }
    const bool taken = std::any_of(learners_.begin(), learners_.end(), [&](const auto& other) {
        return other.first != request.visitor.number && other.second.who == who;
    });
    if (taken && field_of(request, "do") != "same") return page(taken_page(who));
    learner.who = who;
    return see_other("/");
}

ClassDesk::Slot* ClassDesk::open(const std::string& stem) {
    const auto found = slots_.find(stem);
    if (found == slots_.end()) return nullptr;
    Slot& slot = found->second;
    if (slot.lesson || !slot.listed.problem.empty()) return &slot;
    if (auto opened = services_.open(slot.path)) {
        slot.lesson = *std::move(opened);
        slot.drawing = services_.drawing(*slot.lesson);
    } else {
        slot.listed.problem = opened.error();
    }
    return &slot;
}

LearnerBench* ClassDesk::known_bench(const std::string& who, const std::string& stem) {
    const auto found = benches_.find({who, stem});
    return found == benches_.end() ? nullptr : found->second.get();
}

LearnerBench* ClassDesk::bench_of(const std::string& who, Slot& slot) {
    auto& bench = benches_[{who, slot.lesson->stem()}];
    if (!bench) {
        const auto path = path_of(folder_) / path_of(fmt::format("{}.{}.txt", who, slot.lesson->stem()));
        bench = std::make_unique<LearnerBench>(*slot.lesson, who, path_text(path));
        if (bench->is_over()) hand_to_debrief(*bench);
    }
    return bench.get();
}

void ClassDesk::hand_to_debrief(LearnerBench& bench) {
    if (std::find(in_debrief_.begin(), in_debrief_.end(), &bench) != in_debrief_.end()) return;
    in_debrief_.push_back(&bench);
    debriefs_.add(bench);
}

HttpResponse ClassDesk::show_bench(const std::string& stem, Learner& learner) {
    Slot* slot = open(stem);
    if (slot == nullptr) return refused(404, "There is no such lesson here.");
    if (!slot->lesson) return refused(500, slot->listed.problem);
    BenchPage shown{bench_of(learner.who, *slot), std::exchange(learner.message, {}),
                    std::exchange(learner.suspect, {}), std::exchange(learner.line, {}), slot->drawing};
    return page(bench_page(shown));
}

HttpResponse ClassDesk::take_line(const HttpRequest& request, Learner& learner) {
    const std::string stem = field_of(request, "lesson");
    Slot* slot = open(stem);
    if (slot == nullptr || !slot->lesson) return refused(404, "There is no such lesson here.");
    LearnerBench& bench = *bench_of(learner.who, *slot);
    const HttpResponse back = see_other("/bench?lesson=" + query_text(stem));
    const std::string suspect(trimmed(field_of(request, "suspect")));
    const std::string typed(trimmed(field_of(request, "line")));
    std::string line = field_of(request, "word");
    // A suspect alone, by the Enter key in its field, is named for the next test.
    if (line.empty() && !suspect.empty()) line = "suspect " + suspect + (typed.empty() ? "" : ": " + typed);
    if (line.empty()) line = typed;
    if (line.empty()) {
        learner.message = "Nothing was done: say what you do, in the second field.";
        return back;
    }
    if (field_of(request, "turn") != std::to_string(bench.turns().size())) {
        learner.message =
            "The bench has gone on since that page; nothing was done. Your line stands below, to be sent again.";
        learner.suspect = suspect;
        learner.line = typed;
        return back;
    }
    if (const auto failure = bench.answer(line)) {
        learner.message = "Nothing was done: " + failure->message + "; " + failure->suggestion;
        learner.suspect = suspect;
        learner.line = typed;
    }
    if (bench.is_over()) hand_to_debrief(bench);
    return back;
}

std::string ClassDesk::state_of(const std::string& who, const std::string& stem) {
    const LearnerBench* bench = known_bench(who, stem);
    if (bench == nullptr) {
        std::error_code failed;
        const auto path = path_of(folder_) / path_of(fmt::format("{}.{}.txt", who, stem));
        return std::filesystem::exists(path, failed) ? "begun" : "not begun";
    }
    if (!bench->is_over()) return bench->standing();
    const std::string verdict = bench->verdict();
    return verdict.empty() ? "handed back" : verdict;
}

std::vector<ListedLesson> ClassDesk::listed(const std::string& who) {
    std::vector<ListedLesson> lessons;
    for (const auto& [stem, slot] : slots_) {
        lessons.push_back(slot.listed);
        if (!who.empty()) lessons.back().state = state_of(who, stem);
    }
    return lessons;
}

HttpResponse ClassDesk::answer_teacher(const HttpRequest& request) {
    if (request.method == "POST") return refused(404, "The teacher looks on.");
    const std::string stem = query_of(request, "lesson");
    if (request.path == "/") return show_class();
    if (request.path == "/look") {
        const LearnerBench* bench = known_bench(query_of(request, "who"), stem);
        if (bench == nullptr) return refused(404, "There is no such bench.");
        return page(look_page(*bench));
    }
    if (request.path == "/sheet") {
        Slot* slot = open(stem);
        if (slot == nullptr || !slot->lesson) return refused(404, "There is no such lesson here.");
        return page(sheet_page(slot->lesson->exercise().lesson.title, services_.sheet(*slot->lesson)));
    }
    return refused(404, "There is no such page; the class stands at /.");
}

HttpResponse ClassDesk::show_class() {
    std::vector<BenchRow> rows;
    for (const auto& [key, bench] : benches_) {
        const LearnerRun& run = bench->run();
        const auto tests = std::count_if(run.steps().begin(), run.steps().end(),
                                         [](const RunStep& s) { return s.is_test() && s.outcome.minutes > 0; });
        rows.push_back({key.first, key.second, run.exercise().lesson.title, state_of(key.first, key.second),
                        static_cast<std::size_t>(tests), run.bench().bill().parts.size(), run.hints()});
    }
    const std::string address = services_.class_address();
    return page(teacher_page(rows, listed({}), address, qr_svg(qr_modules(address)), services_.jobs));
}

}  // namespace voltfall
