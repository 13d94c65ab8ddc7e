#include "tests/scenarios/fault_bench.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/format.h>

#include "engine/diagnosis/priors.hpp"
#include "engine/diagnosis/probes.hpp"
#include "engine/meters/accuracy.hpp"
#include "engine/solve/ngspice_session.hpp"

namespace voltfall {
namespace {

constexpr int sizes_tried = 5;
constexpr std::size_t points_chosen = 6;

std::vector<double> sizes_of(const FaultMode& mode) {
    if (!mode.size) {
        return {0.0};
    }
    std::vector<double> sizes{mode.size->usual};
    for (int step = 0; step < sizes_tried; ++step) {
        const double share = static_cast<double>(step) / (sizes_tried - 1);
        const SizeRange& range = *mode.size;
        sizes.push_back(range.logarithmic ? range.low * std::pow(range.high / range.low, share)
                                          : range.low + share * (range.high - range.low));
    }
    return sizes;
}

/// Squared distance of two readings in a meter's spread.
double squared_distance(double a, double b) {
    const double spread = meter_tolerance(std::max(std::abs(a), std::abs(b))) / 2;
    const double distance = (a - b) / spread;
    return distance * distance;
}

/// One reading may be wrong, so that none tells more than this, however far it is.
constexpr double most_told_by_one = 8.0;

/// How far a rival is told apart so far, by fuses and by chosen points.
double fuse_distance(const FaultView& a, const FaultView& b, std::span<const std::size_t> states) {
    const auto opens = [&](const FaultView& view, std::size_t fuse) {
        return std::any_of(states.begin(), states.end(),
                           [&](std::size_t state) { return view.states[state].fuse_open[fuse]; });
    };
    double distance = 0;
    for (std::size_t fuse = 0; fuse < a.states.front().fuse_open.size(); ++fuse) {
        distance += opens(a, fuse) != opens(b, fuse) ? most_told_by_one : 0;
    }
    return distance;
}

double point_distance(const FaultView& a, const FaultView& b, std::span<const std::size_t> states, std::size_t point) {
    double distance = 0;
    for (const std::size_t state : states) {
        const double one = squared_distance(a.states[state].volts[point], b.states[state].volts[point]);
        distance += std::min(one, most_told_by_one);
    }
    return distance;
}

/// The views of one rival, one a size: it is told apart as far as its nearest size is.
struct Rival {
    double prior{0};
    std::vector<const FaultView*> sizes;
};
using Rivals = std::vector<Rival>;

Rivals rivals_of(const FaultBench& bench, const Job& job, const FaultView& fault) {
    const Priors priors = priors_of(bench.circuit(), job);
    Rivals rivals{{priors.nothing, {&bench.healthy()}}};
    for (const FaultView& rival : bench.rivals()) {
        if (rival.mode == fault.mode) {
            continue;
        }
        if (rivals.back().sizes.front()->mode != rival.mode) {
            rivals.push_back({priors.modes[rival.mode], {}});
        }
        rivals.back().sizes.push_back(&rival);
    }
    return rivals;
}

/// Points chosen one after the other, each the one that leaves the rivals least weight after those before it.
class PointChooser {
public:
    PointChooser(const FaultBench& bench, const FaultView& fault, const std::vector<std::size_t>& states,
                 const Rivals& rivals)
        : bench_(bench), fault_(fault), states_(states), rivals_(rivals) {
        for (const Rival& rival_mode : rivals) {
            auto& own = distance_.emplace_back();
            for (const FaultView* rival : rival_mode.sizes) {
                own.push_back(fuse_distance(fault, *rival, states));
            }
        }
    }

    void choose() {
        while (points_.size() < std::min(points_chosen, bench_.points().size())) {
            std::size_t best = 0;
            double least = std::numeric_limits<double>::infinity();
            for (std::size_t point = 0; point < bench_.points().size(); ++point) {
                const bool taken = std::find(points_.begin(), points_.end(), point) != points_.end();
                if (taken) {
                    continue;
                }
                if (const double left = left_with(point); left < least) {
                    least = left;
                    best = point;
                }
            }
            take(best);
            left_ = least;
        }
    }

    /// What the rivals together weigh beside the fault after the chosen readings.
    double left() const { return left_; }
    const std::vector<std::size_t>& points() const { return points_; }

private:
    double left_with(std::size_t point) const {
        double sum = 0;
        for (std::size_t mode = 0; mode < rivals_.size(); ++mode) {
            double nearest = std::numeric_limits<double>::infinity();
            for (std::size_t size = 0; size < rivals_[mode].sizes.size(); ++size) {
                const double beside = point_distance(fault_, *rivals_[mode].sizes[size], states_, point);
                nearest = std::min(nearest, distance_[mode][size] + beside);
            }
            sum += rivals_[mode].prior * std::exp(-nearest / 2);
        }
        return sum;
    }

    void take(std::size_t point) {
        for (std::size_t mode = 0; mode < rivals_.size(); ++mode) {
            for (std::size_t size = 0; size < rivals_[mode].sizes.size(); ++size) {
                distance_[mode][size] += point_distance(fault_, *rivals_[mode].sizes[size], states_, point);
            }
        }
        points_.push_back(point);
    }

    const FaultBench& bench_;
    const FaultView& fault_;
    const std::vector<std::size_t>& states_;
    const Rivals& rivals_;
    std::vector<std::vector<double>> distance_;
    std::vector<std::size_t> points_;
    double left_{0};
};

bool opens_a_fuse(const FaultView& fault) {
    return std::any_of(fault.states.begin(), fault.states.end(), [](const StateView& state) {
        return std::find(state.fuse_open.begin(), state.fuse_open.end(), true) != state.fuse_open.end();
    });
}

}  // namespace

double meter_tolerance(double volts) {
    constexpr double last_digit = 0.001;
    return accuracy_of(Instrument::meter, {}).limit(volts, last_digit);
}

FaultBench::FaultBench(std::shared_ptr<const Circuit> circuit) : circuit_(std::move(circuit)) {
    for (std::uint32_t at = 0; at < circuit_->parts.size(); ++at) {
        if (circuit_->parts[at].fuse) {
            fuses_.push_back(PartId{at});
        }
    }
    lay_states();
    for (const JointId joint : permitted_joints(*circuit_)) {
        const bool names_itself = circuit_->find_joint(circuit_->joint(joint).name) == joint;
        if (joint != circuit_->reference && names_itself) {
            points_.push_back(joint);
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

void FaultBench::lay_states() {
    const std::vector<State> defaults = default_states(*circuit_);
    const auto add = [&](State state, const std::string& words) {
        phrases_.push_back(state.label + words);
        states_.push_back(std::move(state));
    };
    if (!defaults.empty() && defaults.front().key == KeyPosition::on) {
        add(defaults.front(), ", key on");
    }
    std::string fresh;
    for (const PartId fuse : fuses_) {
        fresh += ", new " + circuit_->part(fuse).name;
    }
    for (State state : defaults) {
        state.key = KeyPosition::run;
        add(state, ", key run");
        state.fitted_new = fuses_;
        add(state, ", key run" + fresh);
    }
    if (defaults.empty()) {
        return;
    }
    State rest = defaults.front();
    rest.key = KeyPosition::off;
    add(rest, ", key off");
    rest.key = KeyPosition::run;
    for (const PartId fuse : fuses_) {
        rest.pulled = {fuse};
        add(rest, fmt::format(", key run, pull {}", circuit_->part(fuse).name));
    }
}

Fault FaultBench::usual_fault(std::size_t mode) const {
    const ModePtr& row = circuit_->modes[mode];
    return Fault{row, row->size ? row->size->usual : 0.0, 0.5, {}, {}};
}

bool FaultBench::sits_in_fuse(const FaultMode& mode) const {
    return std::any_of(fuses_.begin(), fuses_.end(),
                       [&](PartId fuse) { return circuit_->part(fuse).name == mode.place; });
}

StateView FaultBench::view_one(std::span<const Fault> faults, std::size_t state, std::vector<PartId>& opened) const {
    StateView view;
    view.volts.assign(points_.size(), 0.0);
    view.fuse_open.assign(fuses_.size(), false);
    const std::vector<PartId> before = new_fuses(state) ? std::vector<PartId>{} : opened;
    std::vector<Fault> left;
    for (const Fault& fault : faults) {
        if (!new_fuses(state) || !sits_in_fuse(*fault.mode)) {
            left.push_back(fault);
        }
    }
    const CourseResult course = run_course(NgspiceSession::instance(), *circuit_, states_[state], left, before);
    if (!course) {
        return view;
    }
    view.solved = true;
    opened.insert(opened.end(), course->opened.begin(), course->opened.end());
    const Settled& seen = new_fuses(state) ? course->faulted : course->end();
    for (std::size_t at = 0; at < points_.size(); ++at) {
        view.volts[at] = seen.floats(points_[at]) ? 0.0 : seen.point.volts[points_[at].index];
    }
    for (std::size_t at = 0; at < fuses_.size(); ++at) {
        const auto has = [&](const std::vector<PartId>& list) {
            return std::find(list.begin(), list.end(), fuses_[at]) != list.end();
        };
        const bool blown_itself = std::any_of(left.begin(), left.end(), [&](const Fault& fault) {
            return fault.mode->place == circuit_->part(fuses_[at]).name &&
                   (fault.mode->mode == "blown" || fault.mode->mode == "open");
        });
        view.fuse_open[at] = blown_itself || (has(course->opened) && !has(before));
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
    std::vector<std::vector<bool>> opens;
    for (const std::size_t state : states) {
        opens.push_back(view_one(faults, state, opened).fuse_open);
    }
    std::vector<StateView> views;
    for (const std::size_t state : states) {
        views.push_back(view_one(faults, state, opened));
        views.back().fuse_open = opens[views.size() - 1];
    }
    return views;
}

Choice choose_readings(const FaultBench& bench, const Job& job, const FaultView& fault) {
    const Rivals rivals = rivals_of(bench, job, fault);
    const bool fuses_tell = opens_a_fuse(fault) || bench.sits_in_fuse(*bench.circuit().modes[fault.mode]);
    Choice best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t first = 0; first < bench.states().size(); ++first) {
        for (std::size_t second = first + 1; second < bench.states().size(); ++second) {
            if (!fuses_tell && (bench.new_fuses(first) || bench.new_fuses(second))) {
                continue;
            }
            const std::vector<std::size_t> states{first, second};
            PointChooser chooser(bench, fault, states, rivals);
            chooser.choose();
            if (chooser.left() < least) {
                least = chooser.left();
                best = {states, chooser.points()};
            }
        }
    }
    return best;
}

bool reads_alike(const FaultBench& bench, const Fault& a, const Fault& b, const Choice& choice) {
    const std::vector<StateView> of_a = bench.view(std::span(&a, 1), choice.states);
    const std::vector<StateView> of_b = bench.view(std::span(&b, 1), choice.states);
    for (std::size_t state = 0; state < choice.states.size(); ++state) {
        if (of_a[state].fuse_open != of_b[state].fuse_open) {
            return false;
        }
        for (const std::size_t point : choice.points) {
            const double one = of_a[state].volts[point];
            if (std::abs(one - of_b[state].volts[point]) > meter_tolerance(one)) {
                return false;
            }
        }
    }
    return true;
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
