#include "engine/lessons/file_check.hpp"

#include <algorithm>
#include <filesystem>
#include <set>
#include <tuple>

#include "engine/lessons/lesson_check.hpp"
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/lesson_file.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/spice/deck.hpp"

namespace voltfall {

namespace {

CircuitCounts counts_of(const Circuit& circuit) {
    const Deck deck = build_deck(Network(circuit));
    return {circuit.parts.size(), circuit.wires.size(), static_cast<std::size_t>(deck.nodes) + 1,
            circuit.branches.size()};
}

/// Circuits are told apart by where they lie, not by how the path was typed.
std::string identity_of(const std::string& path) {
    std::error_code failed;
    const std::filesystem::path canonical = std::filesystem::weakly_canonical(path_of(path), failed);
    return failed ? path : path_text(canonical);
}

CheckedFile checked_of(const std::string& file, const std::shared_ptr<const Circuit>& circuit,
                       const std::string& circuit_path, Problems problems) {
    CheckedFile checked{file, {}, std::nullopt, identity_of(circuit_path.empty() ? file : circuit_path)};
    if (circuit) checked.counts = counts_of(*circuit);
    problems.sort();
    checked.problems = problems.told();
    return checked;
}

CheckedFile check_lesson_file(Simulator& simulator, const TypedFile& file, const MatchOptions& options,
                              LessonTrial trial) {
    LessonReading reading = read_lesson(file.toml, file.problems);
    if (reading.circuit) reading.problems.add_all(check_wiring(*reading.circuit));
    std::string circuit_path;
    if (reading.lesson && !reading.problems.has_errors()) {
        circuit_path = reading.lesson->circuit_path;
        if (trial == LessonTrial::run)
            reading.problems.add_all(check_lesson(simulator, reading.circuit, *reading.lesson, options));
    }
    return checked_of(file.toml.path, reading.circuit, circuit_path, std::move(reading.problems));
}

}  // namespace

bool CheckedFile::ok() const {
    return std::none_of(problems.begin(), problems.end(),
                        [](const Problem& problem) { return problem.severity == Severity::error; });
}

bool CheckAnswer::ok() const {
    return std::all_of(files.begin(), files.end(), [](const CheckedFile& file) { return file.ok(); });
}

std::vector<Problem> CheckAnswer::problems() const {
    std::vector<Problem> all;
    std::set<std::tuple<std::string, int, int, std::string>> seen;
    for (const CheckedFile& file : files)
        for (const Problem& problem : file.problems) {
            const SourcePlace& place = problem.place;
            if (seen.emplace(place.file.str(), place.line, place.column, problem.message).second)
                all.push_back(problem);
        }
    return all;
}

std::optional<CircuitCounts> CheckAnswer::counts() const {
    CircuitCounts sum;
    std::set<std::string> counted_circuits;
    for (const CheckedFile& file : files) {
        if (!file.counts) return std::nullopt;
        if (!counted_circuits.insert(file.circuit_file).second) continue;
        sum.parts += file.counts->parts;
        sum.wires += file.counts->wires;
        sum.nodes += file.counts->nodes;
        sum.branches += file.counts->branches;
    }
    return sum;
}

CheckedFile check_file(Simulator& simulator, const TypedFile& file, const MatchOptions& options, LessonTrial trial) {
    if (file.kind == FileKind::lesson) return check_lesson_file(simulator, file, options, trial);
    JobReading reading = read_job(file.toml, file.problems);
    if (reading.circuit) {
        reading.problems.add_all(check_wiring(*reading.circuit));
        note_doubtful_positions(*reading.circuit, reading.problems);
    }
    return checked_of(file.toml.path, reading.circuit, reading.job ? reading.job->circuit_path : std::string(),
                      std::move(reading.problems));
}

}  // namespace voltfall
