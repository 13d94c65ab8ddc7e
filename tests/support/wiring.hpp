// Small circuits and what the checks of their wiring say.
#pragma once

#include <string>

#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::testing {

inline Problems problems_of(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "test.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.place.line << ": " << problem.message);
    REQUIRE(reading.circuit);
    return check_wiring(*reading.circuit);
}

inline std::string all(const Problems& problems) {
    std::string text;
    for (const Problem& problem : problems.list()) {
        text += std::string(severity_name(problem.severity)) + " " + std::to_string(problem.place.line) + ": " +
                problem.message + " | " + problem.suggestion + "\n";
    }
    return text;
}

/// The problem whose message holds these words, or null.
inline const Problem* find(const Problems& problems, const std::string& words) {
    for (const Problem& problem : problems.list()) {
        if (problem.message.find(words) != std::string::npos) return &problem;
    }
    return nullptr;
}

/// A circuit of a few lines: battery, ground, and what is given.
inline std::string small(const std::string& parts, const std::string& wires, const std::string& more = "") {
    return "format = 1\nname = \"small\"\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nG1 = \"ground stud\"\n" + parts +
           "[wires]\n" + wires + more;
}

}  // namespace voltfall::testing
