#include "engine/figures/whatif.hpp"

#include <algorithm>

#include "engine/figures/voltage_ladder.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double warm_share = 0.5;

std::vector<std::string> names_of(const Circuit& circuit, const PointChoice& choice) {
    std::vector<std::string> names;
    for (const JointId joint : choice.joints) names.push_back(circuit.joint(joint).name);
    for (const WireId wire : choice.wires) names.push_back(circuit.wire(wire).name);
    return names;
}

/// The states, and those in which a fault's condition is met.
std::vector<State> with_conditions(const std::vector<State>& states, const std::vector<Fault>& faults) {
    std::vector<State> all = states;
    for (const Fault& fault : faults) {
        const auto named = [&](const State& state) {
            return std::any_of(state.conditions.begin(), state.conditions.end(),
                               [&](const std::string& word) { return same_word(word, fault.condition); });
        };
        if (fault.condition.empty() || std::any_of(all.begin(), all.end(), named)) continue;
        for (State state : states) {
            state.conditions.push_back(fault.condition);
            state.label += ", " + fault.condition;
            all.push_back(std::move(state));
        }
    }
    return all;
}

/// Points along the ways of all loads that work in the sound circuit, each once; of those of the faulted one then.
std::vector<std::string> points_along(const Settled& healthy, const Settled& faulted) {
    const Circuit& circuit = *healthy.network.circuit;
    std::vector<std::string> along;
    for (const Settled* settled : {&healthy, &faulted}) {
        for (const PartId load : loads_of(circuit)) {
            if (load_state(*settled, load, &healthy).seen == LoadSeen::off) continue;
            for (const JointId joint : joints_along(*settled, load)) {
                const std::string& name = circuit.joint(joint).name;
                if (std::find(along.begin(), along.end(), name) == along.end()) along.push_back(name);
            }
        }
    }
    return along;
}

std::optional<LampFigure> lamp_figure(Simulator& simulator, const Circuit& circuit, const State& state) {
    auto found = lamp_sections(simulator, circuit, state);
    if (!found) return std::nullopt;
    LampFigure figure{std::move(found->fuse), {}, std::move(found->shorts)};
    for (const DropPair& section : found->sections)
        figure.sections.push_back(write_tested(circuit, section.test(circuit)));
    return figure;
}

/// One state, healthy and faulted, to its end, with its start where that is asked for.
tl::expected<WhatifState, SolveFailure> solve_state(TransientSimulator& simulator, const HeatModel& heat,
                                                    const State& state, const WhatifQuestion& question) {
    const Circuit& circuit = heat.circuit();
    const SettleResult healthy = settle(simulator, circuit, state, {});
    if (!healthy) return tl::unexpected(healthy.error());
    const double seconds = question.seconds.value_or(default_value("aftermath_seconds"));
    AftermathResult course = run_aftermath(simulator, heat, state, question.faults, seconds);
    if (!course) return tl::unexpected(course.error());
    WhatifState solved;
    solved.state = state.label;
    solved.along = points_along(*healthy, course->end());
    solved.healthy = figures_of(*healthy, *healthy, question.points);
    solved.faulted = figures_of(course->faulted, *healthy, question.points);
    solved.after = figures_of(course->end(), *healthy, question.points);
    solved.aftermath = std::move(course->events);
    if (question.seconds) solved.heat = std::move(course->bodies);
    solved.lamp = lamp_figure(simulator, circuit, state);
    auto limits = check_limits(simulator, circuit, state, question.faults, *healthy, course->faulted);
    if (!limits) return tl::unexpected(limits.error());
    solved.limits = *std::move(limits);
    if (question.start_seconds) {
        StartUpResult start = run_startup(simulator, course->faulted, *question.start_seconds);
        if (!start) return tl::unexpected(start.error());
        solved.start = *std::move(start);
    }
    return solved;
}

}  // namespace

tl::expected<WhatifAnswer, StateFailure> whatif(TransientSimulator& simulator, const Circuit& circuit,
                                                const WhatifQuestion& question) {
    WhatifAnswer answer{
        circuit.name, {}, {}, names_of(circuit, question.points), {}, question.seconds, limits_not_checked(circuit)};
    for (const Fault& fault : question.faults) {
        answer.faults.push_back(write_fault(circuit, fault));
        answer.plain.push_back(fault.mode->plain);
    }
    const HeatModel heat(simulator, circuit);
    for (const State& state : with_conditions(question.states, question.faults)) {
        auto solved = solve_state(simulator, heat, state, question);
        if (!solved) return tl::unexpected(StateFailure{solved.error(), state.label});
        answer.states.push_back(*std::move(solved));
    }
    return answer;
}

std::string_view event_word(HeatEventKind kind) {
    switch (kind) {
        case HeatEventKind::fuse_opens:
            return "fuse opens";
        case HeatEventKind::breaker_closes:
            return "breaker closes";
        case HeatEventKind::limiter_opens:
            return "limiter opens";
        case HeatEventKind::folds_back:
            return "folds back";
        case HeatEventKind::cuts_out:
            return "cuts out";
        case HeatEventKind::runs_again:
            return "runs again";
        case HeatEventKind::harmed:
            return "harmed";
        case HeatEventKind::warms:
            break;
    }
    return "";
}

std::optional<double> event_watts(const HeatEvent& event) {
    const bool in_it = acts_at_limit(event.kind) || event.kind == HeatEventKind::harmed;
    return in_it ? std::optional(event.watts) : std::nullopt;
}

bool is_warm(const BodyHeat& body) {
    return body.hottest - body.ambient > warm_share * (body.limit - body.ambient);
}

}  // namespace voltfall
