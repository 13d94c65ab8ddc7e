// Texts of circuits for the tests of their reader.
#pragma once

#include <algorithm>
#include <fstream>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"

namespace voltfall {

inline std::string example_text() {
    std::ifstream stream(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml", std::ios::binary);
    std::stringstream text;
    text << stream.rdbuf();
    REQUIRE(text.str().size() > 1000);
    return text.str();
}

inline void show(const Problems& problems) {
    for (const Problem& p : problems.list()) {
        UNSCOPED_INFO(severity_name(p.severity)
                      << " " << p.place.line << ":" << p.place.column << " " << p.message << " | " << p.suggestion);
    }
}

inline std::shared_ptr<const Circuit> read_good(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    show(reading.problems);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

/// A small circuit around some lines of [parts] and [wires].
inline std::string small(const std::string& parts, const std::string& wires, const std::string& rest = "") {
    return "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF7 = \"fuse 40A maxi, feed 30\"\n" + parts +
           "\n[wires]\n" + wires + "\n" + rest;
}

inline std::vector<std::string> error_messages(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    CHECK_FALSE(reading.circuit);
    std::vector<std::string> messages;
    for (const Problem& problem : reading.problems.list()) {
        CHECK_FALSE(problem.message.empty());
        if (problem.severity == Severity::error) messages.push_back(problem.message);
    }
    return messages;
}

/// The one error of a text, whose caret stands under `under`.
inline Problem only_error(const std::string& text, const std::string& under = "") {
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    show(reading.problems);
    CHECK_FALSE(reading.circuit);
    std::vector<Problem> errors;
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity == Severity::error) errors.push_back(problem);
    }
    REQUIRE(errors.size() == 1);
    if (!under.empty()) {
        const SourcePlace& place = errors[0].place;
        CHECK(place.text.str().substr(static_cast<std::size_t>(place.column - 1),
                                      static_cast<std::size_t>(place.length)) == under);
    }
    return errors[0];
}

inline const FaultMode* find_mode(const Circuit& circuit, const std::string& phrase) {
    const auto found = std::find_if(circuit.modes.begin(), circuit.modes.end(),
                                    [&](const ModePtr& m) { return m->phrase() == phrase; });
    return found == circuit.modes.end() ? nullptr : found->get();
}

inline std::string replaced(std::string text, const std::string& what, const std::string& with) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

}  // namespace voltfall
