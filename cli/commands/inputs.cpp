#include "cli/commands/inputs.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <istream>
#include <iterator>
#include <thread>

#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/source_lines.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/files/whole_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr unsigned most_workers_by_default = 16;

/// Problems of phrases on the command line; true when there are errors.
bool has_told_errors(const Console& console, const Problems& problems) {
    if (problems.has_errors()) report_problems(console, problems, "the command line");
    return problems.has_errors();
}

}  // namespace

Job with_own_tools(Job job, const Console& console) {
    if (!job.names_tools && !console.settings.tools.empty()) job.tools = console.settings.tools;
    return job;
}

std::optional<Input> load_input(const std::string& file, const Console& console) {
    return load_input(read_typed_file(file, console.in), console);
}

std::optional<Input> load_input(const TypedFile& typed, const Console& console) {
    const std::string& file = typed.toml.path;
    if (typed.kind == FileKind::lesson) {
        Problems problems = typed.problems;
        problems.error(ProblemCode::wrong_file_kind, {file, 0, 0, 1, {}},
                       "the file is a lesson; a circuit or a job is wanted here",
                       "voltfall teach works it; its circuit is the file that it names");
        report_problems(console, problems, file);
        return std::nullopt;
    }
    Input input;
    JobReading reading = read_job(typed.toml, typed.problems);
    reading.problems.sort();
    report_problems(console, reading.problems, file);
    input.circuit = reading.job ? reading.circuit : nullptr;
    if (reading.job) input.job = with_own_tools(*reading.job, console);
    if (!input.circuit) return std::nullopt;
    // What cannot be right as a circuit is not computed: `check` says the same.
    const Problems sense = check_wiring(*input.circuit);
    if (sense.has_errors()) {
        report_problems(console, sense, file);
        return std::nullopt;
    }
    return input;
}

namespace {

/// A line of a list of readings: one reading, or a line of a job's [readings]. Empty where nothing stands there.
std::string_view reading_of_line(std::string_view line) {
    line = trimmed(line);
    if (line.starts_with('#') || line.starts_with('[')) return {};
    const auto equals = line.find('=');
    const auto quote = line.find('"');
    // `3 = "hi  M1.1 to B1-  10.3V"`
    if (equals != std::string_view::npos && quote != std::string_view::npos && equals < quote && line.ends_with('"') &&
        quote + 1 < line.size() && trimmed(line.substr(equals + 1, quote - equals - 1)).empty())
        return line.substr(quote + 1, line.size() - quote - 2);
    return line;
}

/// Most readings of a list: as many as a job may hold.
constexpr int most_listed = 1000;

/// Adds the readings of a list, a line each; what does not read is reported on its line.
void add_lines(const std::string& text, const std::string& file, Input& input, Problems& problems) {
    const auto lines = cut_lines(text, file, problems);
    if (!lines || problems.has_errors()) return;
    int listed = 0;
    for (std::size_t i = 0; i < lines->lines.size(); ++i) {
        const std::string line = lines->lines[i].shown();
        const std::string_view phrase = reading_of_line(line);
        if (phrase.empty()) continue;
        const int column =
            character_count(std::string_view(line).substr(0, static_cast<std::size_t>(phrase.data() - line.data()))) +
            1;
        const SourcePlace place{file, static_cast<int>(i) + 1, column, std::max(1, character_count(phrase)), line};
        if (++listed > most_listed) {
            problems.error(ProblemCode::too_many, place,
                           fmt::format("more than {} readings; at most {} are read", most_listed, most_listed),
                           "keep the readings of one vehicle in the list");
            return;
        }
        add_reading(input.job, *input.circuit, TypedText{std::string(phrase), place}, problems);
    }
}

std::optional<ExitStatus> add_listed_readings(const std::string& file, const Console& console, Input& input) {
    std::string text;
    if (file == standard_input_name && input.job.path == standard_input_name) {
        say(console, "the job and its readings cannot both come from standard input", "name a file for one of them");
        return ExitStatus::usage;
    }
    if (file == standard_input_name) {
        text = rest_of_stream(console.in, largest_file_bytes);
    } else {
        auto read = read_whole_file(file);
        if (!read) {
            say(console, read.error().message, read.error().suggestion);
            return ExitStatus::file_errors;
        }
        text = *std::move(read);
    }
    Problems problems;
    add_lines(text, file, input, problems);
    if (!problems.has_errors()) return std::nullopt;
    report_problems(console, problems, file);
    return ExitStatus::file_errors;
}

}  // namespace

std::optional<ExitStatus> add_typed_readings(const TypedReadings& reads, const Console& console, Input& input) {
    if (!reads.from.empty()) {
        if (const auto status = add_listed_readings(reads.from, console, input)) return status;
    }
    Problems problems;
    for (const std::string& phrase : reads.phrases)
        add_reading(input.job, *input.circuit, TypedText::argument("--read", phrase), problems);
    return has_told_errors(console, problems) ? std::optional(ExitStatus::usage) : std::nullopt;
}

std::string options_of(const TypedReadings& reads) {
    std::string text = reads.from.empty() ? "" : fmt::format(" --read-from {}", reads.from);
    for (const std::string& read : reads.phrases) text += fmt::format(" --read \"{}\"", read);
    return text;
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
    return !has_told_errors(console, problems);
}

std::optional<std::vector<Fault>> typed_faults(const std::vector<std::string>& phrases, const Console& console,
                                               const Circuit& circuit) {
    Problems problems;
    std::vector<Fault> faults;
    for (const std::string& phrase : phrases)
        if (auto fault =
                read_fault_phrase(TypedText::argument("--fault", in_fault_order(phrase, circuit)), circuit, problems)) {
            const auto same = [&](const Fault& other) {
                return write_fault(circuit, other) == write_fault(circuit, *fault);
            };
            if (std::any_of(faults.begin(), faults.end(), same))
                problems.error(ProblemCode::written_twice, TypedText::argument("--fault", phrase).place,
                               "'" + write_fault(circuit, *fault) + "' stands twice", "name each fault once");
            faults.push_back(*std::move(fault));
        }
    if (has_told_errors(console, problems)) return std::nullopt;
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
    if (has_told_errors(console, problems)) return std::nullopt;
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
    if (has_told_errors(console, problems)) return std::nullopt;
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
    return static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, most_workers_by_default));
}

}  // namespace voltfall
