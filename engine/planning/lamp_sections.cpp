#include "engine/planning/lamp_sections.hpp"

#include <algorithm>
#include <cmath>

#include "netlists/checks/survey.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

bool is_end_of(const Circuit& circuit, const std::vector<WireId>& wires, JointId joint) {
    return std::any_of(wires.begin(), wires.end(), [&](WireId id) {
        const Wire& wire = circuit.wire(id);
        return wire.from.joint == joint || wire.to.joint == joint;
    });
}

/// The sections between ends of the guarded wires, the nearest to the fuse first.
std::vector<DropPair> sections_of(const Circuit& circuit, PartId fuse, const std::vector<WireId>& wires) {
    const Network network = all_closed(circuit);
    const Branch& element = circuit.branch(circuit.part(fuse).fuse->element);
    const auto distance = [&](JointId joint) {
        // The fuse's side that the wires hang on is the nearer one.
        const auto steps = [&](JointId from) {
            return from == joint ? std::size_t{1} : metal_path(network, from, joint).size();
        };
        return std::min(steps(element.a), steps(element.b));
    };
    std::vector<std::pair<std::size_t, DropPair>> found;
    for (DropPair& pair : drop_pairs(circuit)) {
        if (!is_end_of(circuit, wires, pair.red) || !is_end_of(circuit, wires, pair.black)) continue;
        const std::size_t red = distance(pair.red);
        const std::size_t black = distance(pair.black);
        if (black < red) std::swap(pair.red, pair.black);
        found.emplace_back(std::min(red, black), std::move(pair));
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<DropPair> sections;
    for (auto& [steps, pair] : found) sections.push_back(std::move(pair));
    return sections;
}

std::vector<Fault> shorts_behind(const Circuit& circuit, const std::vector<WireId>& wires) {
    std::vector<Fault> faults;
    for (const ModePtr& mode : circuit.modes) {
        const bool of_wire = mode->is(ModeFact::rubbed_to_metal) &&
                             std::any_of(wires.begin(), wires.end(),
                                         [&](WireId id) { return same_word(mode->place, circuit.wire(id).name); });
        const bool of_load = mode->is(ModeFact::winding_to_case);
        if (of_wire || of_load) faults.push_back({mode, mode->size.value().usual, 0.5, {}, {}});
    }
    return faults;
}

}  // namespace

std::optional<LampSections> lamp_sections(Simulator& simulator, const Circuit& circuit, const State& state) {
    if (state.lamp_in.empty()) return std::nullopt;
    const PartId fuse = state.lamp_in.front();
    const Survey survey = survey_positions(circuit);
    const std::vector<WireId>& wires = survey.guarded[fuse.index];
    LampSections answer;
    answer.fuse = circuit.part(fuse).name;
    answer.sections = sections_of(circuit, fuse, wires);
    if (answer.sections.empty()) return std::nullopt;
    const Branch& element = circuit.branch(circuit.part(fuse).fuse->element);
    for (const Fault& fault : shorts_behind(circuit, wires)) {
        const SettleResult settled = settle(simulator, circuit, state, std::span(&fault, 1));
        if (!settled) continue;
        const auto volts = [&](JointId red, JointId black) {
            if (settled->floats(red) || settled->floats(black)) return 0.0;
            return settled->point.volts[red.index] - settled->point.volts[black.index];
        };
        LampSections::Short row;
        row.fault = write_fault(circuit, fault);
        row.lamp_volts = std::abs(volts(element.a, element.b));
        for (const DropPair& section : answer.sections)
            row.millivolts.push_back(1000 * volts(section.red, section.black));
        // A short that this state does not feed lights nothing.
        if (row.lamp_volts < 1) continue;
        answer.shorts.push_back(std::move(row));
    }
    if (answer.shorts.empty()) return std::nullopt;
    return answer;
}

}  // namespace voltfall
