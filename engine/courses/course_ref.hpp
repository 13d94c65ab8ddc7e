// A course that may be packed away until somebody looks into it.
#pragma once

#include <memory>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

class PackedCourse;

/// Refers to a course, or to none where its case has no solution. Cheap to copy; may be used from several threads.
class CourseRef {
public:
    CourseRef() = default;
    explicit CourseRef(Course course);
    /// `bare` is the network that it was packed against, and must outlive this.
    CourseRef(std::shared_ptr<const PackedCourse> packed, const Network& bare);

    explicit operator bool() const { return held_ != nullptr; }
    const Course& operator*() const;
    const Course* operator->() const { return &**this; }
    /// Without unpacking anything:
    const std::vector<PartId>& opened() const;
    const std::vector<Event>& aftermath() const;

private:
    struct Held;
    std::shared_ptr<Held> held_;
};

/// Refers to the beginning or the end of a course.
class SettledRef {
public:
    enum class Moment { start, end };

    SettledRef() = default;
    SettledRef(CourseRef course, Moment moment) : course_(std::move(course)), moment_(moment) {}

    explicit operator bool() const { return static_cast<bool>(course_); }
    const Settled& operator*() const { return moment_ == Moment::start ? course_->faulted : course_->end(); }
    const Settled* operator->() const { return &**this; }

private:
    CourseRef course_;
    Moment moment_{Moment::end};
};

}  // namespace voltfall
