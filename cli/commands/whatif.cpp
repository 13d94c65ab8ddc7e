// `whatif`: with these faults, what works, what is measured, what burns.
#include <ostream>

#include "cli/commands/circuit_figures.hpp"
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/limits.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/startup.hpp"
#include "cli/views/whatif_view.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "CIRCUIT", "a circuit, or a job that names one");
    declare_faults(app, arguments);
    declare_states(app, arguments,
                   "a state, \"hi\" or \"off, unplug C303\"; may be repeated; all positions by default");
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

/// One state, healthy and faulted, to its end, with its start where that is asked for.
tl::expected<WhatifState, SolveFailure> solve_state(const Circuit& circuit, const State& state,
                                                    const std::vector<Fault>& faults, const PointChoice& choice,
                                                    std::optional<double> start_seconds) {
    Simulator& simulator = NgspiceSession::instance();
    const SettleResult healthy = settle(simulator, circuit, state, {});
    if (!healthy) return tl::unexpected(healthy.error());
    const CourseResult course = run_course(simulator, circuit, state, faults);
    if (!course) return tl::unexpected(course.error());
    WhatifState solved;
    solved.state = state.label;
    solved.healthy = figures_of(*healthy, *healthy, choice);
    solved.faulted = figures_of(course->faulted, *healthy, choice);
    for (const Event& event : course->aftermath) solved.aftermath.push_back({event.seconds, event.what});
    solved.after = figures_of(course->end(), *healthy, choice);
    auto limits = check_limits(circuit, state, faults, *healthy, course->faulted);
    if (!limits) return tl::unexpected(limits.error());
    solved.limits = *std::move(limits);
    if (start_seconds) {
        auto start = startup_figures(course->faulted, *start_seconds);
        if (!start) return tl::unexpected(start.error());
        solved.start = *std::move(start);
    }
    return solved;
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

    WhatifAnswer answer{
        circuit.name, fault_phrases(circuit, *faults), names_of(circuit, *choice), {}, limits_not_checked(circuit)};
    for (const State& state : *states) {
        auto solved = solve_state(circuit, state, *faults, *choice, arguments.start_seconds);
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
    "CIRCUIT [--fault F]... [--state S]... [--points P,..] [--start [SECONDS]]",
    "voltfall whatif cab-blower.toml --fault \"R1 limiter open\"\n"
    "voltfall whatif cab-blower.toml --fault \"542 chafe 20mohm at 60%\" --state hi\n"
    "voltfall whatif cab-blower.toml --state \"hi, key run\" --points M1.1,M1.2,542\n"
    "voltfall whatif cab-blower.toml --state hi --start 5",
    declare,
    run,
};

}  // namespace voltfall
