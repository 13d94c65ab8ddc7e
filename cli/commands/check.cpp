// `check`: is this file right?
#include <filesystem>
#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/check_view.hpp"
#include "engine/lessons/lesson_check.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/lesson_file.hpp"
#include "netlists/spice/deck.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    app.add_option("FILE", arguments.files, "circuits, jobs and lessons; the circuit that one names is checked with it")
        ->required()
        ->type_name("");
}

CircuitCounts counts_of(const Circuit& circuit) {
    const Deck deck = build_deck(Network(circuit));
    return {circuit.parts.size(), circuit.wires.size(), static_cast<std::size_t>(deck.nodes) + 1,
            circuit.branches.size()};
}

/// Circuits are told apart by where they lie, not by how the path was typed.
std::string identity_of(const std::string& path) {
    std::error_code failed;
    const std::filesystem::path canonical = std::filesystem::weakly_canonical(path, failed);
    return failed ? path : canonical.string();
}

/// A lesson is tried out: the tool works it, and every allowed action is asked for an answer.
CheckedFile check_lesson_file(const Arguments& arguments, const Console& console, const std::string& file) {
    CheckedFile checked{file, {}, std::nullopt, identity_of(file)};
    LessonReading reading = read_lesson_file(file);
    if (reading.circuit) {
        reading.problems.add_all(check_wiring(*reading.circuit));
        checked.counts = counts_of(*reading.circuit);
    }
    if (reading.lesson && !reading.problems.has_errors()) {
        checked.circuit_file = identity_of(reading.lesson->circuit_path);
        Progress progress(arguments, console, std::filesystem::path(file).filename().string());
        MatchOptions options;
        options.workers = workers_of(arguments);
        options.progress = progress.report();
        reading.problems.add_all(check_lesson(console.sweep(), reading.circuit, *reading.lesson, options));
    }
    reading.problems.sort();
    checked.problems = reading.problems.list();
    return checked;
}

CheckedFile check_file(const Arguments& arguments, const Console& console, const std::string& file) {
    if (file != "-" && is_lesson_file(file)) return check_lesson_file(arguments, console, file);
    CheckedFile checked{file, {}, std::nullopt, identity_of(file)};
    JobReading reading;
    if (file == "-") {
        const std::string text{std::istreambuf_iterator<char>(console.in), std::istreambuf_iterator<char>()};
        CircuitReading circuit = read_circuit_text(text, file);
        reading.circuit = circuit.circuit;
        reading.problems = std::move(circuit.problems);
    } else {
        reading = read_job_file(file);
    }
    if (reading.circuit) {
        reading.problems.add_all(check_wiring(*reading.circuit));
        checked.counts = counts_of(*reading.circuit);
    }
    if (reading.job && !reading.job->circuit_path.empty())
        checked.circuit_file = identity_of(reading.job->circuit_path);
    reading.problems.sort();
    checked.problems = reading.problems.list();
    return checked;
}

ExitStatus run(const Arguments& arguments, Console& console) {
    CheckAnswer answer;
    for (const std::string& file : arguments.files) answer.files.push_back(check_file(arguments, console, file));
    switch (arguments.format) {
        case Format::text:
            console.out << check_text(answer, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << check_json(answer);
            break;
        case Format::plain:
            console.out << check_plain(answer);
            break;
    }
    return answer.ok() ? ExitStatus::done : ExitStatus::file_errors;
}

}  // namespace

const Command check_command = {
    "check",
    "is this file right? every problem with its place and a suggestion, then the sense of the wiring",
    "FILE...",
    "voltfall check cab-blower.toml\n"
    "voltfall check *.toml --format json",
    declare,
    run,
};

}  // namespace voltfall
