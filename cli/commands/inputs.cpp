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

namespace voltfall {

namespace {

constexpr std::string_view stdin_name = "-";
constexpr unsigned most_workers = 16;

/// Problems of phrases on the command line; true when there are errors.
bool refused(const Arguments& arguments, const Console& console, const Problems& problems) {
    if (problems.has_errors()) report_problems(arguments, console, problems, "the command line");
    return problems.has_errors();
}

}  // namespace

std::optional<Input> load_input(const Arguments& arguments, const Console& console) {
    const std::string& file = arguments.files.front();
    Input input;
    if (file == stdin_name) {
        const std::string text{std::istreambuf_iterator<char>(console.in), std::istreambuf_iterator<char>()};
        CircuitReading reading = read_circuit_text(text, file);
        reading.problems.sort();
        report_problems(arguments, console, reading.problems, file);
        input.circuit = reading.circuit;
    } else {
        JobReading reading = read_job_file(file);
        reading.problems.sort();
        report_problems(arguments, console, reading.problems, file);
        input.circuit = reading.circuit;
        if (reading.job) input.job = *reading.job;
        if (!reading.job) input.circuit = nullptr;
    }
    if (!input.circuit) return std::nullopt;
    // What cannot be right as a circuit is not computed: `check` says the same.
    const Problems sense = check_wiring(*input.circuit);
    if (sense.has_errors()) {
        report_problems(arguments, console, sense, file);
        return std::nullopt;
    }
    return input;
}

bool add_typed_readings(const Arguments& arguments, const Console& console, Input& input) {
    Problems problems;
    for (const std::string& phrase : arguments.reads)
        add_reading(input.job, *input.circuit, TypedText::argument("--read", phrase), problems);
    return !refused(arguments, console, problems);
}

bool set_typed_tools(const Arguments& arguments, const Console& console, Input& input) {
    if (arguments.tools.empty()) return true;
    Problems problems;
    std::vector<Tool> tools;
    for (const std::string& typed : arguments.tools) {
        for (std::size_t from = 0; from <= typed.size();) {
            const std::size_t comma = std::min(typed.find(',', from), typed.size());
            const std::string piece = typed.substr(from, comma - from);
            if (const auto tool = read_tool(TypedText::argument("--tools", piece), problems)) tools.push_back(*tool);
            from = comma + 1;
        }
    }
    input.job.tools = std::move(tools);
    return !refused(arguments, console, problems);
}

std::optional<std::vector<Fault>> typed_faults(const Arguments& arguments, const Console& console,
                                               const Circuit& circuit) {
    Problems problems;
    std::vector<Fault> faults;
    for (const std::string& phrase : arguments.faults)
        if (auto fault = read_fault_phrase(TypedText::argument("--fault", phrase), circuit, problems))
            faults.push_back(*std::move(fault));
    if (refused(arguments, console, problems)) return std::nullopt;
    return faults;
}

std::optional<std::vector<State>> typed_states(const Arguments& arguments, const Console& console,
                                               const Circuit& circuit) {
    if (arguments.states.empty()) return default_states(circuit);
    Problems problems;
    std::vector<State> states;
    for (const std::string& typed : arguments.states)
        if (auto phrase = read_state_phrase(TypedText::argument("--state", typed), circuit, problems))
            for (State& state : states_of(circuit, *phrase))
                if (std::find(states.begin(), states.end(), state) == states.end()) states.push_back(std::move(state));
    if (refused(arguments, console, problems)) return std::nullopt;
    return states;
}

ExitStatus cannot_compute(const Console& console, const SolveFailure& failure, const std::vector<std::string>& faults,
                          const std::string& state) {
    const std::string with = faults.empty() ? "the healthy circuit" : fmt::format("{}", fmt::join(faults, ", "));
    say(console, fmt::format("cannot compute {} in state {}: {}", with, state, failure.message));
    return ExitStatus::cannot;
}

int workers_of(const Arguments& arguments) {
    if (arguments.workers > 0) return arguments.workers;
    return static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, most_workers));
}

std::vector<std::string> fault_phrases(const Circuit& circuit, const std::vector<Fault>& faults) {
    std::vector<std::string> phrases;
    for (const Fault& fault : faults) phrases.push_back(write_fault(circuit, fault));
    return phrases;
}

}  // namespace voltfall
