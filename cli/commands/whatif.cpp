// `whatif`: with these faults, what works, what is measured, what burns.
#include <algorithm>
#include <ostream>

#include "cli/commands/circuit_figures.hpp"
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/limits.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/startup.hpp"
#include "cli/views/whatif_view.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/planning/lamp_sections.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A week: nothing here warms up for longer.
constexpr double longest_time = 7 * 24 * 3600.0;
/// A body is shown as warm from this share of the way from its surroundings to its limit.
constexpr double warm_share = 0.5;

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "CIRCUIT", "a circuit, or a job that names one");
    declare_faults(app, arguments);
    declare_states(app, arguments,
                   "a state, \"hi\" or \"off, unplug C303\"; may be repeated; all positions by default");
    app.add_option_function<std::string>(
           "--time", [&arguments](const std::string& typed) { arguments.seconds = parse_measure(typed)->value; },
           "follow each state for this time and show what warms up, \"10min\"")
        ->check(duration(0.001, longest_time))
        ->type_name("T");
    declare_repeated(app, "--points", arguments.points, "points and wires to show, \"M1.1,C101.4,542\"", "P,..");
    declare_start(app, arguments);
}

/// Joints and wires of --points; a name of both means the joint. Nothing, and the problems on stderr, when one is
/// unknown.
std::optional<PointChoice> typed_points(const Arguments& arguments, const Console& console, const Circuit& circuit) {
    PointChoice choice;
    Problems problems;
    for (const std::string& typed : arguments.points) {
        WordReader words(TypedText::argument("--points", typed), problems);
        while (!words.at_end()) {
            const Word word = words.take();
            const WireId wire = circuit.find_wire(word.text);
            if (wire.valid() && !circuit.find_joint(word.text).valid()) {
                choice.wires.push_back(wire);
                continue;
            }
            if (const auto point = read_point(word, words, circuit, problems))
                choice.joints.insert(choice.joints.end(), point->joints.begin(), point->joints.end());
        }
    }
    if (!problems.has_errors()) return choice;
    report_problems(arguments, console, problems, "the command line");
    return std::nullopt;
}

std::vector<std::string> names_of(const Circuit& circuit, const PointChoice& choice) {
    std::vector<std::string> names;
    for (const JointId joint : choice.joints) names.push_back(circuit.joint(joint).name);
    for (const WireId wire : choice.wires) names.push_back(circuit.wire(wire).name);
    return names;
}

std::string_view kind_word(HeatEventKind kind) {
    switch (kind) {
        case HeatEventKind::fuse_opens:
            return "fuse opens";
        case HeatEventKind::breaker_closes:
            return "breaker closes";
        case HeatEventKind::limiter_opens:
            return "limiter opens";
        case HeatEventKind::harmed:
            return "harmed";
    }
    return "";
}

Happening happening_of(const HeatEvent& event) {
    Happening happening;
    happening.seconds = event.seconds;
    happening.what = event.what;
    happening.kind = kind_word(event.kind);
    happening.name = event.name;
    happening.earliest = event.earliest;
    happening.latest = event.latest;
    happening.goes_on = event.goes_on;
    if (event.kind == HeatEventKind::limiter_opens || event.kind == HeatEventKind::harmed)
        happening.watts = event.watts;
    return happening;
}

/// Everything for programs; those that have come near their limit are marked for people.
void add_heat(WhatifState& solved, const Aftermath& aftermath) {
    for (const BodyHeat& body : aftermath.bodies) {
        const bool warm = body.hottest - body.ambient > warm_share * (body.limit - body.ambient);
        solved.heat.push_back({body.name, std::string(body_word(body.kind)), body.celsius, body.hottest, body.limit,
                               body.watts, body.healthy_watts, warm});
    }
}

LampFigure lamp_figure(const Circuit& circuit, const LampSections& lamp) {
    LampFigure figure{lamp.fuse, {}, {}};
    for (const DropPair& section : lamp.sections)
        figure.sections.push_back(write_tested(circuit, section.test(circuit)));
    for (const LampSections::Short& row : lamp.shorts)
        figure.shorts.push_back({row.fault, row.lamp_volts, row.millivolts});
    return figure;
}

/// What is asked beside the settled figures.
struct Asked {
    std::optional<double> seconds;        ///< --time
    std::optional<double> start_seconds;  ///< --start
};

/// One state, healthy and faulted, to its end, with its start where that is asked for.
tl::expected<WhatifState, SolveFailure> solve_state(NgspiceSession& simulator, const HeatModel& heat,
                                                    const State& state, const std::vector<Fault>& faults,
                                                    const PointChoice& choice, const Asked& asked) {
    const Circuit& circuit = heat.circuit();
    const SettleResult healthy = settle(simulator, circuit, state, {});
    if (!healthy) return tl::unexpected(healthy.error());
    const double seconds = asked.seconds.value_or(default_value("aftermath_seconds"));
    const AftermathResult course = run_aftermath(simulator, heat, state, faults, seconds);
    if (!course) return tl::unexpected(course.error());
    WhatifState solved;
    solved.state = state.label;
    solved.healthy = figures_of(*healthy, *healthy, choice);
    solved.faulted = figures_of(course->faulted, *healthy, choice);
    for (const HeatEvent& event : course->events) solved.aftermath.push_back(happening_of(event));
    if (asked.seconds) add_heat(solved, *course);
    if (const auto lamp = lamp_sections(simulator, circuit, state)) solved.lamp = lamp_figure(circuit, *lamp);
    solved.after = figures_of(course->end(), *healthy, choice);
    auto limits = check_limits(simulator, circuit, state, faults, *healthy, course->faulted);
    if (!limits) return tl::unexpected(limits.error());
    solved.limits = *std::move(limits);
    if (asked.start_seconds) {
        auto start = startup_figures(simulator, course->faulted, *asked.start_seconds);
        if (!start) return tl::unexpected(start.error());
        solved.start = *std::move(start);
    }
    return solved;
}

/// A fault that shows only hot or on bumps is followed in that condition too, where no state names it.
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
            state.label += (state.label.empty() ? "" : ", ") + fault.condition;
            all.push_back(std::move(state));
        }
    }
    return all;
}

void write(const WhatifAnswer& answer, const Arguments& arguments, const Console& console) {
    switch (arguments.format) {
        case Format::text:
            console.out << whatif_text(answer, answer_style(arguments, console));
            return;
        case Format::json:
            console.out << whatif_json(answer);
            return;
        case Format::plain:
            console.out << whatif_plain(answer);
            return;
    }
}

ExitStatus run(const Arguments& arguments, Console& console) {
    const auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    const Circuit& circuit = *input->circuit;
    const auto faults = typed_faults(arguments, console, circuit);
    const auto states = typed_states(arguments, console, circuit);
    const auto choice = typed_points(arguments, console, circuit);
    if (!faults || !states || !choice) return ExitStatus::usage;

    WhatifAnswer answer{circuit.name, fault_phrases(circuit, *faults), names_of(circuit, *choice), {},
                        {},           limits_not_checked(circuit)};
    const HeatModel heat(console.of_record(), circuit);
    answer.seconds = arguments.seconds;
    for (const State& state : with_conditions(*states, *faults)) {
        auto solved = solve_state(console.of_record(), heat, state, *faults, *choice,
                                  {arguments.seconds, arguments.start_seconds});
        if (!solved) return cannot_compute(console, solved.error(), answer.faults, state.label);
        answer.states.push_back(*std::move(solved));
    }
    write(answer, arguments, console);
    return ExitStatus::done;
}

}  // namespace

const Command whatif_command = {
    "whatif",
    "with these faults: what works, volts and amps at the points, what the fuses do, beside the healthy circuit",
    "CIRCUIT [--fault F]... [--state S]... [--time T] [--points P,..] [--start [SECONDS]]",
    "voltfall whatif cab-blower.toml --fault \"R1 limiter open\"\n"
    "voltfall whatif cab-blower.toml --fault \"542 chafe 20mohm at 60%\" --state hi\n"
    "voltfall whatif cab-blower.toml --fault \"M1 seized\" --state m2 --time 10min\n"
    "voltfall whatif cab-blower.toml --state \"hi, key run\" --points M1.1,M1.2,542\n"
    "voltfall whatif cab-blower.toml --state hi --start 5",
    declare,
    run,
};

}  // namespace voltfall
