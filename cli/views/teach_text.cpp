#include "cli/views/teach_view.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "cli/views/figures.hpp"
#include "cli/views/text_table.hpp"
#include "engine/planning/test_candidates.hpp"
#include "engine/readings/probes.hpp"
#include "netlists/graph/feeds.hpp"
#include "netlists/graph/wired_with.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double told_nothing_bits = 0.05;
constexpr double near_zero_volts = 0.1;

std::string percent_words(double probability) {
    return probability_words(probability);
}

/// Reason of a fresh 0 V that a beginner takes for ground.
bool is_doubtful_zero(const RunStep& step, const Circuit& circuit) {
    const Measured& measured = *step.outcome.measured;
    if (measured.unit != Unit::volt || !step.outcome.test) return false;
    const auto* volts = std::get_if<VoltsTest>(&step.outcome.test->tested);
    if (!volts || volts->black.joints.front() != circuit.reference) return false;
    const ReadValue* shown = number_of(measured.reading.measurement);
    return shown && std::abs(shown->low) < near_zero_volts;
}

void write_coaching(TextPage& page, const RunStep& step, int level) {
    if (step.is_lamp_section())
        return page.paragraph("with a lamp in the seat the last section that shows millivolts leads to the short", 4, 2,
                              Tone::quiet);
    if (!step.bits) return;
    const bool wasted = *step.bits < told_nothing_bits;
    if (level == 1 && step.suspect && step.before && step.after) {
        const std::string before = percent_words(*step.before);
        const std::string after = percent_words(*step.after);
        page.labelled(step.suspect->name + ":",
                      before == after ? "still " + after : fmt::format("from {} to {}", before, after), 4, Tone::quiet);
    }
    if (level == 1 && !step.ruled_out.empty()) {
        constexpr std::size_t most = 6;
        std::string names;
        for (std::size_t i = 0; i < std::min(most, step.ruled_out.size()); ++i)
            names += (i > 0 ? ", " : "") + step.ruled_out[i];
        if (step.ruled_out.size() > most) names += fmt::format(" and {} more", step.ruled_out.size() - most);
        page.labelled("ruled out:", names, 4, Tone::quiet);
    }
    if (step.repeated && step.outcome.minutes > 0)
        page.paragraph("the same test again: a meter repeats itself", 4, 2, Tone::caution);
    else if (wasted && step.outcome.minutes > 0)
        page.paragraph("this told almost nothing that was not known: what else could it have read?", 4, 2,
                       Tone::caution);
}

/// "C303.4 to B1- at mh, key run: 14.18 V".
std::string test_words(const Circuit& circuit, const Measured& measured) {
    const Test test = measured.test();
    const std::string state = write_state(circuit, test.state);
    const std::string tested = write_tested(circuit, test.tested);
    if (state.empty()) return tested + ": " + measured.shown;
    return fmt::format("{} at {}: {}", tested, state, measured.shown);
}

std::string joined_path(const std::vector<WayStep>& steps) {
    std::string text;
    for (const WayStep& step : steps) {
        if (!text.empty()) text += " > ";
        text += step.place;
    }
    return text;
}

/// Names of this very circuit, for the help.
struct Examples {
    std::string position;
    std::string point;
    std::string place;
    std::string cavity;
    std::string wire;
    std::string fuse;
    std::string load;
    std::string relay;
    std::string unplug;
};

Examples examples_of(const Circuit& circuit) {
    Examples e;
    const std::vector<State> states = default_states(circuit);
    if (!states.empty()) e.position = states.back().label;
    const std::vector<PartId> loads = loads_of(circuit);
    if (!loads.empty()) {
        e.load = circuit.part(loads.front()).name;
        const auto& harness = circuit.part(loads.front()).harness;
        if (!harness.empty()) e.point = circuit.joint(harness.begin()->second).name;
    }
    if (!circuit.wires.empty()) e.wire = circuit.wires.front().name;
    for (const Part& part : circuit.parts) {
        if (part.fuse && e.fuse.empty()) e.fuse = part.name;
        if (part.relay && e.relay.empty()) e.relay = part.name;
        const bool connector = joins(part, Joining::cavities);
        if (connector && e.place.empty() && !is_closed(circuit, part.name)) e.place = part.name;
        if (part.plug.empty() || part.pins.size() < 2 || !e.unplug.empty() || is_closed(circuit, part.plug)) continue;
        e.unplug = fmt::format("unplug {}, ohms {} to {}", part.plug, circuit.joint(part.pins.begin()->second).name,
                               circuit.joint(part.pins.rbegin()->second).name);
    }
    for (const Branch& branch : circuit.branches) {
        if (e.cavity.empty() && !e.place.empty() && is_cavity_of(branch.place, e.place)) e.cavity = branch.place;
    }
    if (e.place.empty()) e.place = e.load;
    if (e.cavity.empty()) e.cavity = e.wire;
    return e;
}

}  // namespace

void write_intro(TextPage& page, const Exercise& exercise, bool commit) {
    const Lesson& lesson = exercise.lesson;
    page.heading(fmt::format("{} (level {}, {})", lesson.title, lesson.level, lesson.skill));
    page.labelled("vehicle", exercise.circuit->name, 0);
    page.labelled("concern", lesson.concern, 0, Tone::heading);
    if (!lesson.goal.empty()) page.labelled("goal", lesson.goal, 0);
    page.labelled("budget", shown_minutes(lesson.budget_minutes) + "; every test costs its minutes, strip-down once",
                  0);
    if (!exercise.circuit->note.empty()) page.labelled("note", exercise.circuit->note, 0, Tone::quiet);
    page.labelled("CAUTION",
                  "the vehicle maker's procedure comes first; fans start without warning, packs burn, airbag "
                  "plugs (yellow) are never probed",
                  0, Tone::caution);
    page.paragraph(
        fmt::format("Type help for the words, map for the circuit, points for where a probe may stand, try to "
                    "turn through every position, done to hand the vehicle back.{}",
                    commit ? " Before each test name your suspect." : ""),
        0, 0, Tone::quiet);
}

void write_bench_words(TextPage& page, const Circuit& circuit, bool commit) {
    const Examples e = examples_of(circuit);
    TextTable table({{""}, {"", Align::left, Fold::words}});
    table.row({e.position, "turn the switch (positions by their names; key off, key run)"});
    table.row({"try", "every position, what works in it; costs nothing"});
    if (commit) {
        table.row({"suspect " + e.place, "a part, plug, wire, or supply, feed, return, load, control, pack, nothing"});
        table.row({"suspect " + e.place + ": TEST", "both in one line; same: TEST keeps the last suspect"});
    }
    table.row({e.point + " to B1-",
               fmt::format("volts, red lead first; {} {} to B1- turns the switch first", e.position, e.point)});
    table.row({"drop " + e.cavity, "volts across a contact, plug cavity, wire or part"});
    table.row({"clamp " + e.wire, "amps in a wire"});
    table.row({"lamp A to B", "a 21 W test lamp between two points"});
    if (!e.unplug.empty()) table.row({e.unplug, "ohms with the part in the hand; beep A to B likewise"});
    table.row(
        {"look " + e.place, fmt::format("what the eye sees; fuse {} looks at a fuse, {} watches a load{}", e.fuse,
                                        e.load, e.relay.empty() ? "" : ", relay " + e.relay + " listens to one")});
    table.row({"pull " + e.fuse + ", TEST",
               fmt::format("with the fuse out; lamp in {}, TEST with a lamp in its seat", e.fuse)});
    table.row({"wiggle " + e.wire + ", TEST",
               "while it is moved; heat " + e.place + ", TEST; hot, wet or bump for the whole vehicle"});
    table.row({"new " + e.fuse, "a fuse or part is fitted"});
    table.row({"repair " + e.cavity, "a joint, wire or ground is mended; a fault's phrase names it too"});
    table.row({"say nothing", "the vehicle is sound"});
    table.row({"hint", "in three steps; counted"});
    table.row({"bill", "minutes and parts so far"});
    table.row({"done", "hand the vehicle back; quit gives up"});
    page.table(table);
}

void write_points(TextPage& page, const Bench& bench) {
    const Circuit& circuit = bench.circuit();
    std::vector<std::string> order;
    std::map<std::string, std::vector<std::string>> points;
    for (const JointId joint : permitted_joints(circuit)) {
        const std::string& place = circuit.joint(joint).place;
        if (!points.contains(place)) order.push_back(place);
        points[place].push_back(circuit.joint(joint).name);
    }
    TextTable table({{"at"}, {"min", Align::right}, {"points", Align::left, Fold::words}});
    for (const std::string& place : order) {
        const std::string way = way_to(circuit, place);
        double minutes = circuit.reach_of(way).minutes;
        for (const std::string& reached : bench.reached()) {
            if (same_word(reached, way)) minutes = 0;
        }
        std::string names;
        for (const std::string& name : points[place]) names += (names.empty() ? "" : " ") + name;
        table.row({place, fmt::format("{:.3g}", minutes), names});
    }
    page.table(table);
    std::string wires;
    for (const Wire& wire : circuit.wires) wires += (wires.empty() ? "" : " ") + wire.name;
    page.labelled("clamp", wires, 2);
    for (const auto& [place, words] : circuit.closed) page.labelled("closed", place + ": " + words, 2, Tone::caution);
}

namespace {

/// What commands a module: the terminals of other parts on its command wire, and the wires between.
void write_commands(TextPage& page, const Circuit& circuit) {
    for (const Part& part : circuit.parts) {
        const auto input = part.harness.find("CMD");
        if (input == part.harness.end()) continue;
        const std::vector<JointId> joints = wired_with(circuit, input->second);
        const auto there = [&](JointId joint) {
            return std::find(joints.begin(), joints.end(), joint) != joints.end();
        };
        std::vector<std::string> wires;
        for (const Wire& wire : circuit.wires) {
            if (there(wire.from.joint) || there(wire.to.joint)) wires.push_back(wire.name);
        }
        std::vector<std::string> givers;
        for (const Part& other : circuit.parts) {
            if (&other == &part || only_joins(other)) continue;
            for (const auto& [terminal, joint] : other.harness) {
                if (there(joint)) givers.push_back(circuit.joint(joint).name);
            }
        }
        if (givers.empty()) continue;
        page.labelled(part.name + " command",
                      fmt::format("{} > {} > {}", fmt::join(givers, ", "), fmt::join(wires, " > "),
                                  circuit.joint(input->second).name),
                      0);
    }
}

}  // namespace

void write_ways(TextPage& page, const Circuit& circuit) {
    for (const Limit& limit : circuit.limits) {
        const double scale = limit.unit == Unit::percent ? 100 : 1;
        const std::string unit(unit_name(limit.unit));
        std::string text = limit.low > 0
                               ? fmt::format("{:.3g} to {:.3g} {}", scale * limit.low, scale * limit.high, unit)
                               : fmt::format("{:.3g} {} at most", scale * limit.high, unit);
        if (limit.at_volts > 0) text += fmt::format(" at {:.3g} V", limit.at_volts);
        page.labelled("maker's figure", limit.key + ": " + text, 0);
    }
    for (const PositionFeeds& position : trace_feeds(circuit).positions) {
        page.paragraph("position " + position.label);
        const auto write = [&](const LoadWay& way, std::string_view what) {
            const std::string name = circuit.part(way.load).name;
            if (!way.complete) return page.labelled(fmt::format("{}{}", name, what), "no way", 2, Tone::quiet);
            page.labelled(fmt::format("{}{}", name, what),
                          fmt::format("{} > [{}] > {}", joined_path(way.feed), name, joined_path(way.back)), 2);
        };
        for (const LoadWay& way : position.loads) write(way, "");
        for (const LoadWay& way : position.coils) {
            if (way.complete) write(way, " coil");
        }
    }
    write_commands(page, circuit);
}

void write_step(TextPage& page, const RunStep& step, const Exercise& exercise, bool coach) {
    const ActionOutcome& outcome = step.outcome;
    std::string cost;
    if (outcome.minutes > 0) {
        cost = shown_minutes(outcome.minutes);
        if (!outcome.opened_up.empty()) cost += fmt::format(", {}", fmt::join(outcome.opened_up, ", "));
        cost = " (" + cost + ")";
    }
    if (outcome.result == ActionResult::unsafe) return page.paragraph("stop", 2, 2, Tone::bad);  // the debrief says why
    if (outcome.result == ActionResult::refused) {
        page.paragraph(outcome.message + cost, 2, 2, Tone::caution);
        return;
    }
    if (outcome.kind == ActionKind::turn) return page.labelled("now", outcome.what, 2);
    if (outcome.kind == ActionKind::test)
        page.paragraph(test_words(*exercise.circuit, *outcome.measured) + cost, 2, 4, Tone::heading);
    else
        page.paragraph(outcome.what + (outcome.measured ? ": " + outcome.measured->shown : "") + cost, 2, 4,
                       Tone::heading);
    for (const std::string& note : outcome.notes) page.labelled("note", note, 4, Tone::quiet);
    if (outcome.kind == ActionKind::test) {
        for (const Event& event : outcome.measured->blew)
            page.paragraph(fmt::format("something clicks off: {} after {}", exercise.circuit->part(event.part).name,
                                       shown_seconds(event.seconds)),
                           4, 2, Tone::caution);
    }
    const int level = exercise.lesson.level;
    const bool zero = outcome.kind == ActionKind::test && is_doubtful_zero(step, *exercise.circuit);
    if (level == 1 && zero)
        page.paragraph("about 0 V: ground, or a point that nothing holds, or a probe that does not touch?", 4, 2,
                       Tone::quiet);
    if (coach && level < 3 && !step.after_repair) write_coaching(page, step, level);
    const bool mends = outcome.kind == ActionKind::fit || outcome.kind == ActionKind::repair;
    if (coach && level == 1 && mends && step.warranted && *step.warranted < 0.5 && !outcome.measured)
        page.paragraph(fmt::format("before it, the readings spoke for {} {}: a guess", outcome.target,
                                   percent_words(*step.warranted)),
                       4, 2, Tone::caution);
    if (level == 1 && mends && !outcome.measured)
        page.paragraph("prove it: take the reading that showed the fault again, then done", 4, 2, Tone::quiet);
}

void write_tried(TextPage& page, const Circuit& circuit, const std::vector<RunStep>& steps) {
    TextTable table({{"position"}, {"what it does", Align::left, Fold::words}});
    for (const RunStep& step : steps) {
        if (!step.outcome.measured) continue;
        const Test test = step.outcome.measured->test();
        table.row({write_state(circuit, test.state),
                   write_tested(circuit, test.tested) + " " + step.outcome.measured->shown});
    }
    page.table(table);
}

}  // namespace voltfall
