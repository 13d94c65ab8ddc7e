// The bookmobile's circuits, their states by name and faults by phrase.
#pragma once

#include <fstream>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "engine/solve/state.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/support/catch.hpp"

namespace voltfall {

inline std::shared_ptr<const Circuit> scenario_circuit(const std::string& file) {
    const CircuitReading reading = read_circuit_file(std::string(PROJECT_DIR) + "/scenarios/bookmobile/" + file);
    INFO(file);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

inline std::string scenario_text(const std::string& file) {
    std::ifstream stream(std::string(PROJECT_DIR) + "/scenarios/bookmobile/" + file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    INFO(file);
    REQUIRE_FALSE(text.str().empty());
    return text.str();
}

inline State state_named(const Circuit& circuit, const std::string& label) {
    for (const State& state : default_states(circuit)) {
        if (state.label == label) return state;
    }
    FAIL("no state " << label);
    return {};
}

/// One fault, as a person types it.
inline std::vector<Fault> faults_named(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("fault", phrase), circuit, problems);
    INFO(phrase);
    REQUIRE(fault);
    return {*fault};
}

}  // namespace voltfall
