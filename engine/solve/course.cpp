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

struct FuseOpening {
    PartId part;
    double seconds;
};

std::vector<FuseOpening> openings(const Settled& settled) {
    std::vector<FuseOpening> list;
    const std::vector<Part>& parts = settled.network.circuit->parts;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const PartId part{static_cast<std::uint32_t>(i)};
        if (const auto seconds = opening_seconds(settled, part)) list.push_back({part, *seconds});
    }
    return list;
}

/// Opens the first fuses; false when none does.
bool open_first(const Settled& now, double& clock, Course& course) {
    const std::vector<FuseOpening> due = openings(now);
    if (due.empty()) return false;
    const double first = std::min_element(due.begin(), due.end(), [](const FuseOpening& a, const FuseOpening& b) {
                             return a.seconds < b.seconds;
                         })->seconds;
    clock += first;
    for (const FuseOpening& opening : due) {
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
    const SettleCase of{&state, faults, opened};
    return std::move(run_courses(simulator, circuit, std::span(&of, 1)).front());
}

std::vector<CourseResult> run_courses(Simulator& simulator, const Circuit& circuit, std::span<const SettleCase> cases) {
    std::vector<SettleResult> starts = settle_all(simulator, circuit, cases);
    std::vector<CourseResult> courses;
    std::vector<State> states;  // as they are once a fuse just fitted has opened too
    std::vector<double> clocks(cases.size(), 0.0);
    std::vector<std::size_t> going;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        states.push_back(*cases[i].state);
        if (!starts[i]) {
            courses.emplace_back(tl::unexpected(starts[i].error()));
            continue;
        }
        courses.emplace_back(Course{*std::move(starts[i]), {}, std::nullopt, {}});
        for (const PartId part : cases[i].opened) {
            if (!is_new(states[i], part)) courses[i]->opened.push_back(part);
        }
        going.push_back(i);
    }
    // Every round opens at least one fuse of each case that goes on, so it ends.
    while (!going.empty()) {
        std::vector<SettleCase> later;
        std::erase_if(going, [&](std::size_t i) {
            Course& course = *courses[i];
            if (!open_first(course.end(), clocks[i], course)) return true;
            std::erase_if(states[i].fitted_new, [&](PartId part) { return has_opened(course, part); });
            later.push_back({&states[i], cases[i].faults, course.opened});
            return false;
        });
        std::vector<SettleResult> next = settle_all(simulator, circuit, later);
        for (std::size_t k = 0; k < going.size(); ++k) {
            if (next[k]) {
                courses[going[k]]->after = *std::move(next[k]);
            } else {
                courses[going[k]] = tl::unexpected(next[k].error());
            }
        }
        std::erase_if(going, [&](std::size_t i) { return !courses[i]; });
    }
    return courses;
}

WireAmps wire_amps(const Settled& settled, WireId wire) {
    const Wire& of = settled.network.circuit->wire(wire);
    const double from = settled.point.amps[of.first_half.index];
    const double to = settled.point.amps[of.second_half.index];
    // A half of no length is one piece of copper with the other.
    return {std::isnan(from) ? to : from, std::isnan(to) ? from : to};
}

}  // namespace voltfall
