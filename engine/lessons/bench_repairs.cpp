// What mends the vehicle: parts, fuses and repairs.
#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/lessons/bench.hpp"
#include "engine/lessons/safety.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

bool is_joining(const Part& part) {
    return part.kind && (part.kind->word == "connector" || part.kind->word == "splice" || part.kind->word == "ground");
}

std::string in_time(double seconds) {
    if (seconds < 1) return "at once";
    if (seconds < 120) return fmt::format("after {:.0f} s", seconds);
    return fmt::format("after {:.0f} min", seconds / 60);
}

}  // namespace

ActionOutcome Bench::fit_fuse(PartId fuse, const std::string& rest) {
    ActionOutcome outcome;
    outcome.kind = ActionKind::fit;
    const Part& part = circuit().part(fuse);
    outcome.target = part.name;
    if (!rest.empty()) {
        const auto amps = parse_measure(rest);
        if (!amps || (amps->unit != Unit::ampere && amps->unit != Unit::none)) {
            outcome.result = ActionResult::refused;
            outcome.message = fmt::format("'{}' are no amperes; write new {}", rest, part.name);
            return outcome;
        }
        if (auto reason = unsafe_fuse(part, amps->value)) {
            outcome.result = ActionResult::unsafe;
            outcome.message = std::move(*reason);
            return outcome;
        }
        if (amps->value < part.fuse->rating_amps) {
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
    const StatePhrase phrase = with_settings({});
    const CourseResult run = technician_.course(technician_.state_of(phrase));
    if (!run) return outcome;
    Measured measured;
    measured.test = settings() + ", new " + part.name + "  fuse " + part.name;
    measured.value = "good";
    measured.shown = "holds";
    for (const Event& event : run->aftermath) {
        if (!vehicle.has_opened(event.part)) vehicle.opened.push_back({event.part, event.seconds});
        if (event.part != fuse) continue;
        measured.blew.push_back(event);
        measured.shown = "blew " + in_time(event.seconds);
        measured.value = event.seconds < 1 ? "blown at once"
                                           : "blown after " + write_measure(std::round(event.seconds), Unit::second);
    }
    measured.reading = measured.test + " " + measured.value;
    // What the element itself had is mended by the new one: earlier readings of it stand for another vehicle.
    if (!repaired_) add_reading(job_, circuit(), TypedText::argument("reading", measured.reading), outcome.problems);
    outcome.measured = std::move(measured);
    return outcome;
}

ActionOutcome Bench::fit(const std::string& rest) {
    ActionOutcome outcome;
    outcome.kind = ActionKind::fit;
    const std::string name = rest.substr(0, rest.find_first_of(" \t"));
    const PartId id = circuit().find_part(name);
    if (!allowed("new") && !(id.valid() && circuit().part(id).fuse)) {
        outcome.result = ActionResult::refused;
        outcome.message = "this lesson is done without new parts";
        return outcome;
    }
    if (!id.valid()) {
        outcome.result = ActionResult::refused;
        std::vector<std::string> names;
        for (const Part& part : circuit().parts) names.push_back(part.name);
        const std::string hint = did_you_mean(name, names);
        outcome.message = fmt::format("no part is called '{}'{}", name, hint.empty() ? "" : "; " + hint);
        return outcome;
    }
    const Part& part = circuit().part(id);
    if (part.fuse) return fit_fuse(id, trimmed(rest.substr(name.size())));
    if (is_joining(part)) {
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
        if (same_word(mode.place, target) || same_word(mode.repair, target)) return true;
        const PartId part = circuit().find_part(target);
        if (part.valid() && !is_joining(circuit().part(part))) return false;
        // All cavities of a plug, all legs of a splice.
        return is_cavity_of(mode.place, target);
    });
    if (vehicle.faults.size() < before) bill_.cured.push_back(target);
}

ActionOutcome Bench::repair(const std::string& rest) {
    ActionOutcome outcome;
    outcome.kind = ActionKind::repair;
    if (same_word(rest, "nothing") || same_word(rest, "no fault found")) {
        outcome.kind = ActionKind::say;
        outcome.target = "nothing";
        outcome.what = "said that nothing is wrong";
        return outcome;
    }
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("your line", rest), circuit(), problems);
    std::string target = fault ? fault->mode->repair : "";
    if (!fault) {
        const auto place = find_place(circuit(), rest.substr(0, rest.find_first_of(" \t")));
        if (!place || rest.find_first_of(" \t") != std::string::npos) {
            outcome.result = ActionResult::not_understood;
            outcome.problems = std::move(problems);
            return outcome;
        }
        target = *place;
    }
    const PartId id = circuit().find_part(target);
    if (id.valid() && !is_joining(circuit().part(id))) {
        ActionOutcome fitted = fit(target);
        if (fitted.result == ActionResult::done) fitted.kind = ActionKind::repair;
        return fitted;
    }
    outcome.target = target;
    outcome.what = "repaired " + target;
    outcome.cautions.emplace_back("battery off before a joint or wire is mended, and keep its settings in mind");
    charge_reach({target}, outcome);
    outcome.minutes += default_value("minutes_repair");
    bill_.repair_minutes += outcome.minutes;
    cure(target);
    repaired_ = true;
    return outcome;
}

}  // namespace voltfall
