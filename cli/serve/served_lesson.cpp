#include "cli/serve/served_lesson.hpp"

#include <utility>

namespace voltfall {

ServedLesson::ServedLesson(Simulator& simulator, std::string stem, Exercise exercise)
    : simulator_(simulator),
      stem_(std::move(stem)),
      exercise_(std::move(exercise)),
      dictionary_(simulator, *exercise_.circuit) {
    // Learners are answered one after the other: each with one thread leaves the other cores to the debriefs.
    options_.match.workers = 1;
    options_.match.dictionary = &dictionary_;
    options_.commit = true;
    options_.weigh = exercise_.lesson.level < 3 && exercise_.lesson.coach;
}

const LessonPlan& ServedLesson::plan() {
    const std::lock_guard one_at_a_time(lock_);
    if (!plan_) plan_ = plan_of(simulator_, exercise_, options_.match);
    return *plan_;
}

}  // namespace voltfall
