// What happens by itself after a state is set: fuses that open, one after the other.
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/solve/settled.hpp"
#include "netlists/tables/fuses.hpp"

namespace voltfall {

namespace {

/// Fuses within this share of the first one's time open together.
constexpr double same_moment = 1e-3;

struct Opening {
    PartId part;
    double seconds;
};

std::vector<Opening> openings(const Settled& settled) {
    std::vector<Opening> list;
    const std::vector<Part>& parts = settled.network.circuit->parts;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const PartId part{static_cast<std::uint32_t>(i)};
        if (const auto seconds = opening_seconds(settled, part)) list.push_back({part, *seconds});
    }
    return list;
}

/// Opens the first fuses; false when none does.
bool open_first(const Settled& now, double& clock, Course& course) {
    const std::vector<Opening> due = openings(now);
    if (due.empty()) return false;
    const double first = std::min_element(due.begin(), due.end(), [](const Opening& a, const Opening& b) {
                             return a.seconds < b.seconds;
                         })->seconds;
    clock += first;
    for (const Opening& opening : due) {
        if (opening.seconds > first * (1 + same_moment)) continue;
        course.aftermath.push_back({clock, opening.part, now.network.circuit->part(opening.part).name + " opens"});
        course.opened.push_back(opening.part);
    }
    return true;
}

bool is_new(const State& state, PartId part) {
    return std::find(state.fitted_new.begin(), state.fitted_new.end(), part) != state.fitted_new.end();
}

bool has_opened(const Course& course, PartId part) {
    return std::find(course.opened.begin(), course.opened.end(), part) != course.opened.end();
}

}  // namespace

std::optional<double> opening_seconds(const Settled& settled, PartId fuse) {
    const Part& part = settled.network.circuit->part(fuse);
    if (!part.fuse || settled.network.at(part.fuse->element).open) return std::nullopt;
    const auto type = fuse_type(part.fuse->type);
    const double amps = std::abs(settled.point.amps[part.fuse->element.index]);
    const double rating = settled.network.ratings[fuse.index];
    if (!type || !(rating > 0) || std::isnan(amps)) return std::nullopt;
    return fuse_opening_seconds(*type, rating, amps);
}

CourseResult run_course(Simulator& simulator, const Circuit& circuit, const State& state, std::span<const Fault> faults,
                        std::span<const PartId> opened) {
    SettleResult start = settle(simulator, circuit, state, faults, opened);
    if (!start) return tl::unexpected(start.error());
    Course course{std::move(*start), {}, std::nullopt, {}};
    for (const PartId part : opened) {
        if (!is_new(state, part)) course.opened.push_back(part);
    }
    State later = state;
    double clock = 0;
    // Every round opens at least one fuse, so it ends.
    while (open_first(course.end(), clock, course)) {
        // A fuse just fitted opens like any other.
        std::erase_if(later.fitted_new, [&](PartId part) { return has_opened(course, part); });
        SettleResult next = settle(simulator, circuit, later, faults, course.opened);
        if (!next) return tl::unexpected(next.error());
        course.after = std::move(*next);
    }
    return course;
}

WireAmps wire_amps(const Settled& settled, WireId wire) {
    const Wire& of = settled.network.circuit->wire(wire);
    const double from = settled.point.amps[of.first_half.index];
    const double to = settled.point.amps[of.second_half.index];
    // A half of no length is one piece of copper with the other.
    return {std::isnan(from) ? to : from, std::isnan(to) ? from : to};
}

}  // namespace voltfall
