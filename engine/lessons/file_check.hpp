// The answer of `check`: the problems of files, and how large their circuits are.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "netlists/files/typed_file.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// How large a circuit is. Nodes are electrical: joints of one piece of copper count once, the reference too.
struct CircuitCounts {
    std::size_t parts{};
    std::size_t wires{};
    std::size_t nodes{};
    std::size_t branches{};
};

struct CheckedFile {
    std::string file;
    std::vector<Problem> problems;
    std::optional<CircuitCounts> counts;  ///< nullopt when the circuit could not be built
    std::string circuit_file;             ///< the circuit counted; the file itself unless it is a job

    bool ok() const;
};

struct CheckAnswer {
    std::vector<CheckedFile> files;

    bool ok() const;
    /// Every problem once, though a circuit may be checked with several jobs.
    std::vector<Problem> problems() const;
    /// The sizes of the circuits added up, each circuit once. Returns nullopt when one could not be built.
    std::optional<CircuitCounts> counts() const;
};

/// Whether a lesson without mistakes is tried out too, which takes seconds where reading takes milliseconds.
enum class LessonTrial { run, left_out };

/// Takes a circuit, job or lesson apart, with the circuit that it names, looks at the sense of the wiring, and tries a
/// lesson out: the tool works it, and every allowed action is asked for an answer.
CheckedFile check_file(Simulator& simulator, const TypedFile& file, const MatchOptions& options,
                       LessonTrial trial = LessonTrial::run);

}  // namespace voltfall
