// What browsers may ask of a class: learners work lessons on benches of their own, the teacher looks on.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <tl/expected.hpp>
#include <vector>

#include "cli/serve/class_page.hpp"
#include "cli/serve/request.hpp"

namespace voltfall {

/// Works out debriefs in a thread of its own, in the order in which they come in: a class that hands its vehicles back
/// at once is answered meanwhile.
class DebriefWorker {
public:
    /// Called, in that thread, when one is done.
    using Done = std::function<void(const LearnerBench&)>;
    explicit DebriefWorker(Done done);
    ~DebriefWorker();
    DebriefWorker(const DebriefWorker&) = delete;
    DebriefWorker& operator=(const DebriefWorker&) = delete;

    void add(LearnerBench& bench);

private:
    void work();

    Done done_;
    std::mutex lock_;
    std::condition_variable more_;
    std::deque<LearnerBench*> waiting_;
    bool ends_{false};
    std::thread thread_;
};

class ClassDesk {
public:
    /// Opens a lesson's file, or tells what is wrong with it.
    using Open = std::function<tl::expected<std::unique_ptr<ServedLesson>, std::string>(const std::string& path)>;
    /// The teacher's sheet; a drawing of the sound circuit.
    using Sheet = std::function<std::string(ServedLesson&)>;
    /// The address for the class.
    using Address = std::function<std::string()>;

    struct Services {
        Open open;
        Sheet sheet;
        Sheet drawing;
        Address class_address;
        DebriefWorker::Done done;
        bool jobs{false};  ///< jobs are served beside the lessons
    };

    /// `lessons`: files, by the names of which they are called. `folder`: where benches are kept.
    ClassDesk(std::vector<std::string> lessons, std::string folder, Services services);

    HttpResponse answer(const HttpRequest& request);

private:
    struct Slot {
        std::string path;
        ListedLesson listed;                   ///< as its file says
        std::unique_ptr<ServedLesson> lesson;  ///< once somebody works it
        std::string drawing;
    };
    struct Learner {
        std::string who;
        std::string message;
        std::string suspect;
        std::string line;
    };

    HttpResponse answer_teacher(const HttpRequest& request);
    HttpResponse answer_learner(const HttpRequest& request);
    HttpResponse enter(const HttpRequest& request);
    HttpResponse show_bench(const std::string& stem, Learner& learner);
    HttpResponse take_line(const HttpRequest& request, Learner& learner);
    HttpResponse show_class();

    Slot* open(const std::string& stem);
    LearnerBench* bench_of(const std::string& who, Slot& slot);
    LearnerBench* known_bench(const std::string& who, const std::string& stem);
    void hand_to_debrief(LearnerBench& bench);
    std::string state_of(const std::string& who, const std::string& stem);
    std::vector<ListedLesson> listed(const std::string& who);

    std::map<std::string, Slot> slots_;  ///< by stem
    std::string folder_;
    Services services_;
    std::map<int, Learner> learners_;                                                       ///< by browser
    std::map<std::pair<std::string, std::string>, std::unique_ptr<LearnerBench>> benches_;  ///< by learner and lesson
    std::vector<const LearnerBench*> in_debrief_;
    DebriefWorker debriefs_;  ///< last: ends before what it works on
};

}  // namespace voltfall
