// Reads readings and states for the tests, against the example circuit where none is given.
#pragma once

#include <string>

#include "netlists/phrases/reading_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

namespace voltfall::testing {

inline Reading reading_of(const std::string& phrase, const Circuit& circuit = cab_blower()) {
    Problems problems;
    const auto reading = read_reading_phrase(typed(phrase), "1", circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(reading);
    return *reading;
}

template <class Kind>
Kind measured(const std::string& phrase, const Circuit& circuit = cab_blower()) {
    const Reading reading = reading_of(phrase, circuit);
    INFO(phrase << " is measurement number " << reading.measurement.index());
    REQUIRE(std::holds_alternative<Kind>(reading.measurement));
    return std::get<Kind>(reading.measurement);
}

inline Problem problem_of(const std::string& phrase, const Circuit& circuit = cab_blower()) {
    Problems problems;
    const auto reading = read_reading_phrase(typed(phrase), "1", circuit, problems);
    INFO(phrase);
    REQUIRE_FALSE(reading);
    REQUIRE(problems.has_errors());
    return problems.list().front();
}

inline StatePhrase state_of(const std::string& phrase, const Circuit& circuit = cab_blower()) {
    Problems problems;
    const auto state = read_state_phrase(typed(phrase), circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(state);
    return *state;
}

inline Problem state_problem_of(const std::string& phrase, const Circuit& circuit = cab_blower()) {
    Problems problems;
    const auto state = read_state_phrase(typed(phrase), circuit, problems);
    INFO(phrase);
    REQUIRE_FALSE(state);
    return problems.list().front();
}

inline std::string joints_of(const Point& point, const Circuit& circuit = cab_blower()) {
    std::string text;
    for (const JointId joint : point.joints) text += (text.empty() ? "" : " ") + circuit.joint(joint).name;
    return text;
}

inline std::string settings_of(const StatePhrase& state, const Circuit& circuit = cab_blower()) {
    std::string text;
    for (const ControlSetting& setting : state.settings) {
        const Part& part = circuit.part(setting.part);
        for (const std::size_t position : setting.positions) {
            text += (text.empty() ? "" : " ") + part.name + "=" + part.positions[position].name;
        }
    }
    return text;
}

}  // namespace voltfall::testing
