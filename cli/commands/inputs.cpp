#include "cli/commands/inputs.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <istream>
#include <iterator>
#include <thread>

#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

namespace {

constexpr std::string_view stdin_name = "-";
constexpr unsigned most_workers = 16;

/// Problems of phrases on the command line; true when there are errors.
bool refused(const Console& console, const Problems& problems) {
    if (problems.has_errors()) report_problems(console, problems, "the command line");
    return problems.has_errors();
}

}  // namespace

std::optional<Input> load_input(const std::string& file, const Console& console) {
    Input input;
    if (file == stdin_name) {
        const std::string text{std::istreambuf_iterator<char>(console.in), std::istreambuf_iterator<char>()};
        CircuitReading reading = read_circuit_text(text, file);
        reading.problems.sort();
        report_problems(console, reading.problems, file);
        input.circuit = reading.circuit;
    } else {
        JobReading reading = read_job_file(file);
        reading.problems.sort();
        report_problems(console, reading.problems, file);
        input.circuit = reading.circuit;
        if (reading.job) input.job = *reading.job;
        if (!reading.job) input.circuit = nullptr;
    }
    if (!input.circuit) return std::nullopt;
    // What cannot be right as a circuit is not computed: `check` says the same.
    const Problems sense = check_wiring(*input.circuit);
    if (sense.has_errors()) {
        report_problems(console, sense, file);
        return std::nullopt;
    }
    return input;
}

bool add_typed_readings(const std::vector<std::string>& reads, const Console& console, Input& input) {
    Problems problems;
    for (const std::string& phrase : reads)
        add_reading(input.job, *input.circuit, TypedText::argument("--read", phrase), problems);
    return !refused(console, problems);
}

bool set_typed_tools(const std::vector<std::string>& lists, const Console& console, Input& input) {
    if (lists.empty()) return true;
    Problems problems;
    std::vector<Tool> tools;
    for (const std::string& typed : lists) {
        for (std::size_t from = 0; from <= typed.size();) {
            const std::size_t comma = std::min(typed.find(',', from), typed.size());
            const std::string piece = typed.substr(from, comma - from);
            if (const auto tool = read_tool(TypedText::argument("--tools", piece), problems)) tools.push_back(*tool);
            from = comma + 1;
        }
    }
    input.job.tools = std::move(tools);
    return !refused(console, problems);
}

std::optional<std::vector<Fault>> typed_faults(const std::vector<std::string>& phrases, const Console& console,
                                               const Circuit& circuit) {
    Problems problems;
    std::vector<Fault> faults;
    for (const std::string& phrase : phrases)
        if (auto fault = read_fault_phrase(TypedText::argument("--fault", phrase), circuit, problems))
            faults.push_back(*std::move(fault));
    if (refused(console, problems)) return std::nullopt;
    return faults;
}

std::optional<std::vector<State>> typed_states(const std::vector<std::string>& phrases, const Console& console,
                                               const Circuit& circuit) {
    if (phrases.empty()) return default_states(circuit);
    Problems problems;
    std::vector<State> states;
    for (const std::string& typed : phrases)
        if (auto phrase = read_state_phrase(TypedText::argument("--state", typed), circuit, problems))
            for (State& state : states_of(circuit, *phrase))
                if (std::find(states.begin(), states.end(), state) == states.end()) states.push_back(std::move(state));
    if (refused(console, problems)) return std::nullopt;
    return states;
}

std::optional<State> typed_state(const std::vector<std::string>& phrases, const Console& console,
                                 const Circuit& circuit) {
    const auto states = typed_states(phrases, console, circuit);
    if (!states || states->empty()) return std::nullopt;
    if (!phrases.empty() && states->size() > 1) {
        say(console, fmt::format("a deck is one state, and --state names {}", states->size()), "name one position");
        return std::nullopt;
    }
    return states->back();
}

std::optional<PointChoice> typed_points(const std::vector<std::string>& lists, const Console& console,
                                        const Circuit& circuit) {
    PointChoice choice;
    Problems problems;
    for (const std::string& typed : lists) {
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
    if (refused(console, problems)) return std::nullopt;
    return choice;
}

ExitStatus cannot_compute(const Console& console, const SolveFailure& failure, const std::vector<Fault>& faults,
                          const Circuit& circuit, const std::string& state) {
    std::vector<std::string> phrases;
    for (const Fault& fault : faults) phrases.push_back(write_fault(circuit, fault));
    const std::string with = faults.empty() ? "the healthy circuit" : fmt::format("{}", fmt::join(phrases, ", "));
    say(console, fmt::format("cannot compute {} in state {}: {}", with, state, failure.message));
    return ExitStatus::cannot;
}

ExitStatus cannot_compute(const Console& console, const SolveFailure& failure) {
    say(console, fmt::format("cannot compute the healthy circuit in one of the states asked for: {}", failure.message));
    return ExitStatus::cannot;
}

int workers_of(const Console& console) {
    if (console.options.workers > 0) return console.options.workers;
    return static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, most_workers));
}

}  // namespace voltfall
