// One learner's bench in a lesson that is served: each line is kept in a file before it is answered, so that a server
// that was killed goes on where it stood.
#pragma once

#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "cli/serve/served_lesson.hpp"
#include "cli/talk/lesson_talk.hpp"
#include "netlists/files/whole_file.hpp"

namespace voltfall {

class LearnerBench {
public:
    struct Turn {
        std::string line;
        std::string reply;
    };

    /// Takes up the bench kept at `path`, else begins one. `lesson` must outlive it.
    LearnerBench(ServedLesson& lesson, std::string who, std::string path);

    const std::string& who() const { return who_; }
    ServedLesson& lesson() const { return lesson_; }
    const LearnerRun& run() const { return run_; }
    std::string intro() const { return talk_.intro(); }
    std::string standing() const { return talk_.standing(); }
    const std::vector<Turn>& turns() const { return turns_; }
    bool is_over() const { return talk_.is_over(); }

    /// Keeps the line and does it. A failure where it cannot be kept: then nothing was done.
    std::optional<FileFailure> answer(const std::string& line);

    /// Weighs the run and tells what it was worth; only once it is over. May be called from another thread, while
    /// nothing else is asked of the bench but what it shows here.
    void work_out();
    /// Once it is worked out.
    std::optional<std::string> debrief() const;
    std::string verdict() const;
    /// The row of a file of results.
    std::string result_row() const;

    static constexpr std::size_t most_lines = 1000;

private:
    std::string kept_text() const;
    void weigh_and_tell();

    ServedLesson& lesson_;
    std::string who_;
    std::string path_;
    LearnerRun run_;
    LessonTalk talk_;
    std::vector<Turn> turns_;
    mutable std::mutex lock_;
    std::optional<std::string> debrief_;
    std::string verdict_;
    std::string row_;
};

}  // namespace voltfall
