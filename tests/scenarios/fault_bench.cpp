#include "tests/scenarios/fault_bench.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/format.h>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/prediction.hpp"
#include "engine/readings/probes.hpp"
#include "engine/solve/linear_circuit.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall {
namespace {

constexpr int sizes_tried = 5;
constexpr double last_digit = 0.001;

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

/// What of the model's and of the meter's error no other reading shares.
double own_model_sigma(double volts) {
    return std::sqrt(std::pow(model_sigma(false, volts), 2) -
                     shared_scale * std::pow(relative_model_sigma(false, volts), 2));
}

double own_meter_sigma(const Accuracy& meter, double volts) {
    return std::sqrt(std::pow(meter.limit(volts, last_digit) / sigmas_in_limit, 2) -
                     shared_scale * std::pow(scale_sigma(meter, volts), 2));
}

}  // namespace

double meter_tolerance(double volts) {
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
    healthy_ = view_each(healthy_mode, {}, Slopes::yes);
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

StateView FaultBench::view_one(std::span<const Fault> faults, std::size_t state, std::vector<PartId>& opened,
                               Slopes slopes) const {
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
    const CourseResult course = run_course(solver(), *circuit_, states_[state], left, before);
    if (!course) {
        return view;
    }
    view.solved = true;
    opened.insert(opened.end(), course->opened.begin(), course->opened.end());
    const Settled& seen = new_fuses(state) ? course->faulted : course->end();
    for (std::size_t at = 0; at < points_.size(); ++at) {
        view.volts[at] = seen.floats(points_[at]) ? 0.0 : seen.point.volts[points_[at].index];
    }
    if (slopes == Slopes::yes) view.slopes = slopes_of(seen, state);
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

FaultView FaultBench::view_each(std::size_t mode, std::span<const Fault> faults, Slopes slopes) const {
    FaultView view{mode, {}};
    for (std::size_t state = 0; state < states_.size(); ++state) {
        std::vector<PartId> opened;
        view.states.push_back(view_one(faults, state, opened, slopes));
    }
    return view;
}

FaultView FaultBench::view_with_slopes(std::size_t mode) const {
    const Fault fault = usual_fault(mode);
    return view_each(mode, std::span(&fault, 1), Slopes::yes);
}

std::vector<std::vector<double>> FaultBench::slopes_of(const Settled& seen, std::size_t state) const {
    constexpr std::array keys{KeyPosition::off, KeyPosition::acc, KeyPosition::on, KeyPosition::run};
    const LinearCircuit linear(seen.network, seen.point);
    std::vector<std::vector<double>> slopes;
    for (const JointId point : points_) {
        std::vector<double>& own = slopes.emplace_back();
        if (seen.floats(point)) {
            own.assign(circuit_->branches.size() + keys.size() + states_.size() + 1, 0.0);
            own.push_back(untouched_sigma);
            continue;
        }
        const ReadingSlope slope = linear.volts(point, circuit_->reference);
        own = slope.tolerance;
        own.resize(circuit_->branches.size(), 0.0);
        // The supply is one unknown for each position of the key.
        for (const KeyPosition key : keys) {
            const bool held = states_[state].key == key;
            own.push_back(held ? slope.supply * supply_of(*circuit_, key, true).sigma : 0.0);
        }
        const double volts = seen.point.volts[point.index];
        for (std::size_t other = 0; other < states_.size(); ++other) {
            own.push_back(other == state ? std::sqrt(shared_scale) * relative_model_sigma(false, volts) : 0.0);
        }
        const Accuracy meter = accuracy_of(Instrument::meter, {});
        own.push_back(std::sqrt(shared_scale) * scale_sigma(meter, volts) * (volts < 0 ? -1 : 1));
        own.push_back(std::hypot(own_model_sigma(volts), own_meter_sigma(meter, volts)));
    }
    return slopes;
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

bool shows_anything(const FaultBench& bench, const FaultView& fault) {
    constexpr double sigmas = 2;
    for (std::size_t state = 0; state < bench.states().size(); ++state) {
        const StateView& seen = fault.states[state];
        const StateView& sound = bench.healthy().states[state];
        if (seen.fuse_open != sound.fuse_open) {
            return true;
        }
        for (std::size_t point = 0; point < seen.volts.size(); ++point) {
            double variance = 0;
            for (const double slope : seen.slopes.at(point)) {
                variance += slope * slope;
            }
            if (std::abs(seen.volts[point] - sound.volts[point]) > sigmas * std::sqrt(variance)) {
                return true;
            }
        }
    }
    return false;
}

}  // namespace voltfall
