#include "engine/courses/course_ref.hpp"

#include <mutex>
#include <optional>

#include "engine/courses/packed_course.hpp"

namespace voltfall {

struct CourseRef::Held {
    std::shared_ptr<const PackedCourse> packed;  ///< null where the course was given whole
    const Network* bare{nullptr};
    std::once_flag unpacking;
    std::optional<Course> course;
};

CourseRef::CourseRef(Course course) : held_(std::make_shared<Held>()) {
    held_->course = std::move(course);
}

CourseRef::CourseRef(std::shared_ptr<const PackedCourse> packed, const Network& bare)
    : held_(std::make_shared<Held>()) {
    held_->packed = std::move(packed);
    held_->bare = &bare;
}

const Course& CourseRef::operator*() const {
    Held& held = *held_;
    if (held.packed) std::call_once(held.unpacking, [&] { held.course = held.packed->unpack(*held.bare); });
    return *held.course;
}

const std::vector<PartId>& CourseRef::opened() const {
    return held_->packed ? held_->packed->opened() : held_->course->opened;
}

const std::vector<Event>& CourseRef::aftermath() const {
    return held_->packed ? held_->packed->aftermath() : held_->course->aftermath;
}

}  // namespace voltfall
