#include "engine/lessons/reason.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/heat/aftermath.hpp"
#include "engine/lessons/symptoms.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

std::string seconds_text(double seconds) {
    if (seconds < 10) return fmt::format("{:.2g} s", seconds);
    return seconds < 120 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60);
}

std::string volts_text(double volts) {
    return as_meter(volts, false);
}
std::string amps_text(double amps) {
    return as_meter(std::abs(amps), true);
}

/// The branch in which the fault puts ohms or an open, if it is of that kind.
struct Weak {
    BranchId branch;
    double added{0};
    bool open{false};
};
std::optional<Weak> weak_branch(const Fault& fault) {
    for (const Change& change : fault.mode->changes(fault.size, fault.where)) {
        if (const auto* added = std::get_if<AddOhms>(&change)) return Weak{added->branch, added->ohms, false};
        if (const auto* open = std::get_if<OpenBranch>(&change)) return Weak{open->branch, 0, true};
    }
    return std::nullopt;
}

/// One fault alone in one state, beside the sound circuit.
struct Shown {
    State state;
    PartId load;
    Settled sound;
    Course course;
    double change{0};  ///< of the load's volts and amps, as shares
};

class Explainer {
public:
    Explainer(Simulator& simulator, const Exercise& exercise)
        : simulator_(simulator), exercise_(exercise), circuit_(*exercise.circuit) {}

    std::vector<std::string> explain() {
        for (const Fault& fault : exercise_.lesson.faults) explain_fault(fault);
        for (const Fault& fault : exercise_.lesson.roots) explain_root(fault);
        if (exercise_.hidden().empty()) lines_.emplace_back("every reading lies where a sound vehicle's does");
        return std::move(lines_);
    }

private:
    std::optional<Shown> most_shown(const Fault& typed) {
        Fault fault = typed;
        fault.condition.clear();
        std::optional<Shown> best;
        for (const State& state : default_states(circuit_)) {
            CourseResult run = run_course(simulator_, circuit_, state, std::span(&fault, 1));
            SettleResult sound = settle(simulator_, circuit_, state, {});
            if (!run || !sound) continue;
            for (const PartId load : loads_of(circuit_)) {
                const LoadState now = load_state(run->faulted, load, &*sound);
                const LoadState then = load_state(*sound, load, &*sound);
                double change = std::abs(now.volts - then.volts) / circuit_.supply +
                                std::abs(now.amps - then.amps) / (1 + std::abs(then.amps));
                if (!run->aftermath.empty()) change += 10;
                if (best && change <= best->change) continue;
                best = Shown{state, load, *sound, *run, change};
            }
        }
        return best;
    }

    std::string load_sentence(const Shown& shown) const {
        const LoadState now = load_state(shown.course.faulted, shown.load, &shown.sound);
        const LoadState then = load_state(shown.sound, shown.load, &shown.sound);
        std::string text =
            fmt::format("{} gets {} and {} instead of {} and {}", circuit_.part(shown.load).name, volts_text(now.volts),
                        amps_text(now.amps), volts_text(then.volts), amps_text(then.amps));
        if (now.rpm && std::abs(*then.rpm) > 1)
            text += fmt::format(", and turns {:.0f} instead of {:.0f} rpm", std::abs(*now.rpm), std::abs(*then.rpm));
        return text;
    }

    std::string weak_sentence(const Shown& shown, const Fault& fault, const Weak& weak) const {
        const Settled& now = shown.course.faulted;
        const NetworkBranch& branch = now.network.at(weak.branch);
        if (weak.open) {
            return fmt::format(
                "with {} no current runs: what stands before the open has the full volts, what stands "
                "behind it none, and all of the supply stands across it",
                write_fault(circuit_, fault));
        }
        const double amps = now.point.amps[weak.branch.index];
        const double volts = now.point.volts[branch.a.index] - now.point.volts[branch.b.index];
        return fmt::format("{:.3g} ohm times {} are {} lost in {}, {:.0f} W of heat there", weak.added, amps_text(amps),
                           volts_text(std::abs(weak.added * amps)), fault.mode->place, std::abs(volts * amps));
    }

    void explain_fault(const Fault& fault) {
        const auto shown = most_shown(fault);
        if (!shown) return;
        const std::string state = "at " + shown->state.label + ": ";
        const auto weak = weak_branch(fault);
        if (weak && shown->change > 0) lines_.push_back(state + weak_sentence(*shown, fault, *weak));
        if (shown->change > 0.01) lines_.push_back(state + load_sentence(*shown));
        explain_opening(*shown, fault);
    }

    void explain_opening(const Shown& shown, const Fault& fault) {
        for (const Event& event : shown.course.aftermath) {
            const Part& fuse = circuit_.part(event.part);
            const double amps = shown.course.faulted.point.amps[fuse.fuse->element.index];
            const double sound = shown.sound.point.amps[fuse.fuse->element.index];
            lines_.push_back(fmt::format("{}: {} run through {} ({:.3g} A) instead of {}; it opens {}",
                                         write_fault(circuit_, fault), amps_text(amps), fuse.name,
                                         fuse.fuse->rating_amps, amps_text(sound),
                                         "after " + seconds_text(event.seconds)));
            return;
        }
    }

    void explain_root(const Fault& root) {
        const auto shown = most_shown(root);
        if (!shown) return;
        if (!shown->course.aftermath.empty()) return explain_opening(*shown, root);
        explain_heat(root);
    }

    void explain_heat(const Fault& root) {
        const HeatModel heat(simulator_, circuit_);
        for (const State& state : default_states(circuit_)) {
            const AftermathResult run = run_aftermath(simulator_, heat, state, std::span(&root, 1),
                                                      default_value("aftermath_seconds"), {}, HeatReport::events_only);
            const SettleResult sound = settle(simulator_, circuit_, state, {});
            if (!run || !sound) continue;
            for (const HeatEvent& event : run->events) {
                if (event.kind != HeatEventKind::limiter_opens) continue;
                double then = 0;
                for (const Body& body : heat.bodies()) {
                    if (body.name == event.name) then = heat.watts(body, *sound);
                }
                lines_.push_back(
                    fmt::format("{} is why: at {} it makes {:.0f} W in {} instead of {:.0f} W, and its "
                                "limiter opens after {}",
                                write_fault(circuit_, root), state.label, event.watts, event.name, then,
                                seconds_text(event.seconds)));
                return;
            }
        }
        lines_.push_back(write_fault(circuit_, root) + " stands behind it");
    }

    Simulator& simulator_;
    const Exercise& exercise_;
    const Circuit& circuit_;
    std::vector<std::string> lines_;
};

}  // namespace

std::vector<std::string> electrical_reason(Simulator& simulator, const Exercise& exercise) {
    return Explainer(simulator, exercise).explain();
}

}  // namespace voltfall
