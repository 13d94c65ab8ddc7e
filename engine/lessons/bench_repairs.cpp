// What mends the vehicle: parts, fuses and repairs.
#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/figures/repair_reach.hpp"
#include "engine/lessons/bench.hpp"
#include "engine/lessons/safety.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::string in_time(double seconds) {
    if (seconds < 1) return "at once";
    if (seconds < 120) return fmt::format("after {:.0f} s", seconds);
    return fmt::format("after {:.0f} min", seconds / 60);
}

}  // namespace

ActionOutcome Bench::fit_fuse(const FitPart& fit) {
    const PartId fuse = fit.part;
    ActionOutcome outcome;
    outcome.kind = ActionKind::fit;
    const Part& part = circuit().part(fuse);
    outcome.target = part.name;
    if (fit.amps) {
        if (auto reason = unsafe_fuse(part, *fit.amps)) {
            outcome.result = ActionResult::unsafe;
            outcome.message = std::move(*reason);
            return outcome;
        }
        if (*fit.amps < part.fuse->rating_amps) {
            outcome.result = ActionResult::refused;
            outcome.message = fmt::format("the diagram says {:.3g} A: same rating and type", part.fuse->rating_amps);
            return outcome;
        }
    }
    outcome.cautions.emplace_back("fuse: same rating and type, switched off while it goes in; find the cause first");
    charge_reach({part.name}, outcome);
    outcome.minutes += default_value("minutes_fuse");
    bill_.repair_minutes += outcome.minutes;
    bill_.parts.push_back(part.name);
    Vehicle& vehicle = technician_.vehicle();
    std::erase_if(vehicle.opened, [&](const OpenedFuse& opened) { return opened.part == fuse; });
    cure(part.name);
    outcome.what = "fitted " + part.name;
    StatePhrase phrase = definite(circuit(), with_settings({}));
    const CourseResult run = technician_.course(technician_.state_of(phrase));
    if (!run) return outcome;
    phrase.fitted_new = {fuse};
    FuseReading seen{{fuse}, "good", {}, {}};
    Measured measured;
    measured.shown = "holds";
    for (const Event& event : run->aftermath) {
        vehicle.opened.push_back({event.part, event.seconds});
        if (event.part != fuse) continue;
        measured.blew.push_back(event);
        measured.shown = "blew " + in_time(event.seconds);
        seen.word = "blown";
        seen.after_seconds = event.seconds < 1 ? 0 : std::round(event.seconds);
    }
    measured.reading.state = std::move(phrase);
    measured.reading.measurement = seen;
    measured.reading.text = write_reading(circuit(), measured.reading);
    // What the element itself had is mended by the new one: earlier readings of it stand for another vehicle.
    if (!repaired_) add_reading(job_, measured.reading);
    outcome.measured = std::move(measured);
    return outcome;
}

ActionOutcome Bench::fit(const FitPart& fit) {
    ActionOutcome outcome;
    outcome.kind = ActionKind::fit;
    const Part& part = circuit().part(fit.part);
    if (!allowed("new") && !part.fuse) {
        outcome.result = ActionResult::refused;
        outcome.message = "this lesson is done without new parts";
        return outcome;
    }
    if (part.fuse) return fit_fuse(fit);
    if (only_joins(part)) {
        outcome.result = ActionResult::refused;
        outcome.message = fmt::format("a joint is mended, not swapped: repair {}", part.name);
        return outcome;
    }
    outcome.target = part.name;
    outcome.what = "fitted " + part.name;
    charge_reach({part.name}, outcome);
    outcome.minutes += default_value("minutes_replace");
    bill_.repair_minutes += outcome.minutes;
    bill_.parts.push_back(part.name);
    cure(part.name);
    repaired_ = true;
    return outcome;
}

void Bench::cure(const std::string& target) {
    Vehicle& vehicle = technician_.vehicle();
    const std::size_t before = vehicle.faults.size();
    std::erase_if(vehicle.faults, [&](const Fault& fault) {
        const FaultMode& mode = *fault.mode;
        if (same_word(mode.repair, target)) return true;
        if (mode.is(ModeFact::outside_circuit)) return false;
        const PartId part = circuit().find_part(target);
        if (part.valid() && !only_joins(circuit().part(part))) return false;
        // All cavities of a plug, all legs of a splice.
        return is_cavity_of(mode.place, target);
    });
    if (vehicle.faults.size() < before) bill_.cured.push_back(target);
}

ActionOutcome Bench::repair(const std::string& target) {
    ActionOutcome outcome;
    outcome.kind = ActionKind::repair;
    const PartId id = circuit().find_part(target);
    if (id.valid() && !only_joins(circuit().part(id))) {
        ActionOutcome fitted = fit({id, std::nullopt});
        if (fitted.result == ActionResult::done) fitted.kind = ActionKind::repair;
        return fitted;
    }
    outcome.target = target;
    outcome.what = "repaired " + target;
    const std::string place = place_in(target);
    if (place == target) {
        outcome.cautions.emplace_back(
            "warning: battery off before a joint or wire is mended, and keep its settings in mind");
    } else {
        outcome.cautions.emplace_back(
            "a gas system is opened, evacuated and filled only by those trained for it, after "
            "its leak is found; hot coolant stays closed");
    }
    charge_reach({place}, outcome);
    outcome.minutes += default_value("minutes_repair");
    bill_.repair_minutes += outcome.minutes;
    cure(target);
    repaired_ = true;
    return outcome;
}

}  // namespace voltfall
