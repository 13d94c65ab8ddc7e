#include "tests/scenarios/fault_bench.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/solve/ngspice_session.hpp"

namespace voltfall {
namespace {

constexpr int sizes_tried = 5;
constexpr std::size_t points_chosen = 6;

std::vector<double> sizes_of(const FaultMode& mode) {
    if (!mode.size) {
        return {0.0};
    }
    std::vector<double> sizes;
    for (int step = 0; step < sizes_tried; ++step) {
        const double share = static_cast<double>(step) / (sizes_tried - 1);
        const SizeRange& range = *mode.size;
        sizes.push_back(range.logarithmic ? range.low * std::pow(range.high / range.low, share)
                                          : range.low + share * (range.high - range.low));
    }
    return sizes;
}

/// Each control's positions in turn, with the engine running, so that the supply is known.
std::vector<State> running_states(const Circuit& circuit) {
    std::vector<State> states = default_states(circuit);
    for (State& state : states) {
        state.key = KeyPosition::run;
    }
    return states;
}

/// Squared distance of two readings in a meter's spread.
double squared_distance(double a, double b) {
    const double spread = meter_tolerance(std::max(std::abs(a), std::abs(b))) / 2;
    const double distance = (a - b) / spread;
    return distance * distance;
}

/// How far a rival is told apart so far, by fuses and by chosen points.
double fuse_distance(const FaultView& a, const FaultView& b, std::span<const std::size_t> states) {
    double distance = 0;
    for (const std::size_t state : states) {
        distance += a.states[state].fuse_open != b.states[state].fuse_open ? 100 : 0;
    }
    return distance;
}

double point_distance(const FaultView& a, const FaultView& b, std::span<const std::size_t> states, std::size_t point) {
    double distance = 0;
    for (const std::size_t state : states) {
        distance += squared_distance(a.states[state].volts[point], b.states[state].volts[point]);
    }
    return distance;
}

/// A rival counts as told apart at four spreads; further away tells nothing more.
double told(double distance) {
    return std::min(distance, 16.0);
}

struct Greedy {
    double gain{0};
    std::vector<std::size_t> points;
};

Greedy choose_points(const FaultBench& bench, const FaultView& fault, std::span<const std::size_t> states,
                     std::span<const FaultView* const> rivals) {
    std::vector<double> distance;
    for (const FaultView* rival : rivals) {
        distance.push_back(fuse_distance(fault, *rival, states));
    }
    Greedy chosen;
    while (chosen.points.size() < std::min(points_chosen, bench.points().size())) {
        double best_gain = -1;
        std::size_t best = 0;
        for (std::size_t point = 0; point < bench.points().size(); ++point) {
            if (std::find(chosen.points.begin(), chosen.points.end(), point) != chosen.points.end()) {
                continue;
            }
            double gain = 0;
            for (std::size_t at = 0; at < rivals.size(); ++at) {
                gain += told(distance[at] + point_distance(fault, *rivals[at], states, point)) - told(distance[at]);
            }
            if (gain > best_gain) {
                best_gain = gain;
                best = point;
            }
        }
        for (std::size_t at = 0; at < rivals.size(); ++at) {
            distance[at] += point_distance(fault, *rivals[at], states, best);
        }
        chosen.points.push_back(best);
    }
    for (const double each : distance) {
        chosen.gain += told(each);
    }
    return chosen;
}

}  // namespace

double meter_tolerance(double volts) {
    return 0.008 * std::abs(volts) + 0.03;
}

FaultBench::FaultBench(std::shared_ptr<const Circuit> circuit)
    : circuit_(std::move(circuit)), states_(running_states(*circuit_)) {
    for (const State& state : states_) {
        phrases_.push_back(state.label + ", key run");
    }
    for (std::uint32_t at = 0; at < circuit_->joints.size(); ++at) {
        const JointId joint{at};
        const bool names_itself = circuit_->find_joint(circuit_->joint(joint).name) == joint;
        if (circuit_->joint(joint).access == Access::open && joint != circuit_->reference && names_itself) {
            points_.push_back(joint);
        }
    }
    for (std::uint32_t at = 0; at < circuit_->parts.size(); ++at) {
        if (circuit_->parts[at].fuse) {
            fuses_.push_back(PartId{at});
        }
    }
    healthy_ = view_each(healthy_mode, {});
    for (std::size_t at = 0; at < circuit_->modes.size(); ++at) {
        const FaultMode& mode = *circuit_->modes[at];
        if (!mode.catalogued) {
            continue;
        }
        for (const double size : sizes_of(mode)) {
            const Fault fault{circuit_->modes[at], size, 0.5, {}, {}};
            rivals_.push_back(view_each(at, std::span(&fault, 1)));
        }
    }
}

Fault FaultBench::usual_fault(std::size_t mode) const {
    const ModePtr& row = circuit_->modes[mode];
    return Fault{row, row->size ? row->size->usual : 0.0, 0.5, {}, {}};
}

StateView FaultBench::view_one(std::span<const Fault> faults, std::size_t state, std::vector<PartId>& opened) const {
    StateView view;
    view.volts.assign(points_.size(), 0.0);
    view.fuse_open.assign(fuses_.size(), false);
    const CourseResult course = run_course(NgspiceSession::instance(), *circuit_, states_[state], faults, opened);
    if (!course) {
        return view;
    }
    view.solved = true;
    opened.insert(opened.end(), course->opened.begin(), course->opened.end());
    const Settled& end = course->end();
    for (std::size_t at = 0; at < points_.size(); ++at) {
        view.volts[at] = end.floats(points_[at]) ? 0.0 : end.point.volts[points_[at].index];
    }
    for (std::size_t at = 0; at < fuses_.size(); ++at) {
        view.fuse_open[at] = std::find(opened.begin(), opened.end(), fuses_[at]) != opened.end();
    }
    return view;
}

FaultView FaultBench::view_each(std::size_t mode, std::span<const Fault> faults) const {
    FaultView view{mode, {}};
    for (std::size_t state = 0; state < states_.size(); ++state) {
        std::vector<PartId> opened;
        view.states.push_back(view_one(faults, state, opened));
    }
    return view;
}

std::vector<StateView> FaultBench::view(std::span<const Fault> faults, std::span<const std::size_t> states) const {
    std::vector<PartId> opened;
    for (const std::size_t state : states) {
        (void)view_one(faults, state, opened);
    }
    std::vector<StateView> views;
    for (const std::size_t state : states) {
        views.push_back(view_one(faults, state, opened));
    }
    return views;
}

Choice choose_readings(const FaultBench& bench, const FaultView& fault) {
    std::vector<const FaultView*> rivals{&bench.healthy()};
    for (const FaultView& rival : bench.rivals()) {
        if (rival.mode != fault.mode) {
            rivals.push_back(&rival);
        }
    }
    Choice best;
    double best_gain = -1;
    for (std::size_t first = 0; first < bench.states().size(); ++first) {
        for (std::size_t second = first + 1; second < bench.states().size(); ++second) {
            const std::vector<std::size_t> states{first, second};
            const Greedy chosen = choose_points(bench, fault, states, rivals);
            if (chosen.gain > best_gain) {
                best_gain = chosen.gain;
                best = {states, chosen.points};
            }
        }
    }
    return best;
}

bool shows_anything(const FaultBench& bench, const FaultView& fault) {
    for (std::size_t state = 0; state < bench.states().size(); ++state) {
        const StateView& seen = fault.states[state];
        const StateView& sound = bench.healthy().states[state];
        if (seen.fuse_open != sound.fuse_open) {
            return true;
        }
        for (std::size_t point = 0; point < seen.volts.size(); ++point) {
            if (std::abs(seen.volts[point] - sound.volts[point]) > meter_tolerance(sound.volts[point])) {
                return true;
            }
        }
    }
    return false;
}

}  // namespace voltfall
