#include "engine/planning/bench_runs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/readings/probes.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A motor less suspected than this, or more, is not taken off its plug for it (ASSUMED).
constexpr double worth_running = 0.05;
constexpr double sure_anyway = 0.97;

double chance_inside(const Circuit& circuit, const Weighed& weighed, PartId motor) {
    const std::string& name = circuit.part(motor).name;
    return weighed.chance_of([&](const FaultMode& mode) { return mode.part == motor && same_word(mode.repair, name); });
}

bool has_run_so(const Job& job, const std::string& plug) {
    return std::any_of(job.readings.begin(), job.readings.end(), [&](const Reading& reading) {
        const auto& off = reading.state.unplugged;
        const bool taken_off =
            std::any_of(off.begin(), off.end(), [&](const std::string& name) { return same_word(name, plug); });
        return taken_off && !reading.state.leads.empty() && std::holds_alternative<LoadReading>(reading.measurement);
    });
}

/// The position in which the sound motor takes most, and the sign of its current there.
double amps_at_most(Simulator& simulator, const Circuit& circuit, BranchId winding) {
    double most = 0;
    for (const State& state : default_states(circuit)) {
        const SettleResult settled = settle(simulator, circuit, state, {});
        if (!settled) continue;
        const double amps = settled->point.amps[winding.index];
        if (std::isfinite(amps) && std::abs(amps) > std::abs(most)) most = amps;
    }
    return most;
}

/// "1" of M1.1, where the joint is that pin's.
std::string pin_at(const Part& part, JointId joint) {
    for (const auto& [pin, at] : part.pins) {
        if (at == joint) return pin;
    }
    return {};
}

}  // namespace

std::vector<ExtraState> bench_runs(Simulator& simulator, const Circuit& circuit, const Job& job,
                                   const Weighed& weighed) {
    std::vector<ExtraState> list;
    for (const PartId id : loads_of(circuit)) {
        const Part& part = circuit.part(id);
        const Branch& winding = circuit.branch(part.load_branch);
        const bool plain = sort_of(winding.law) == LawSort::motor && part.pins.size() == 2 && !part.electronics;
        if (!plain || part.plug.empty() || is_closed(circuit, part.plug) || is_closed(circuit, part.name)) continue;
        const double chance = chance_inside(circuit, weighed, id);
        if (chance < worth_running || chance > sure_anyway || has_run_so(job, part.plug)) continue;
        const double amps = amps_at_most(simulator, circuit, part.load_branch);
        const std::string into = pin_at(part, amps < 0 ? winding.b : winding.a);
        const std::string out = pin_at(part, amps < 0 ? winding.a : winding.b);
        if (amps == 0 || into.empty() || out.empty()) continue;
        // Read as it would be typed, so that what is proposed can be.
        const std::string words = fmt::format("unplug {}, feed {}.{}, jumper {}.{} to {}", part.plug, part.name, into,
                                              part.name, out, circuit.joint(circuit.reference).name);
        Problems problems;
        const auto phrase = read_state_phrase(TypedText::argument("state", words), circuit, problems);
        if (!phrase || problems.has_errors()) continue;
        ExtraState state;
        state.phrase = *phrase;
        state.phrase.text.clear();
        state.state = states_of(circuit, *phrase).front();
        state.kind = ExtraState::Kind::bench_run;
        state.fitted = id;
        state.places = {part.plug};
        state.minutes = default_value("minutes_bench_run");
        list.push_back(std::move(state));
    }
    return list;
}

}  // namespace voltfall
