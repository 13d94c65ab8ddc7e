// What a fault gives the last word of a few readings.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "engine/readings/prediction.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::testing {

/// The catalogue's row; null for "nothing".
inline const FaultMode* row_called(const Circuit& circuit, const std::string& phrase) {
    if (phrase == "nothing") return nullptr;
    const auto found = std::find_if(circuit.modes.begin(), circuit.modes.end(),
                                    [&](const ModePtr& mode) { return mode->phrase() == phrase; });
    INFO(phrase);
    REQUIRE(found != circuit.modes.end());
    return found->get();
}

/// P(last word | fault of that size), the others of the readings being there too.
inline double word_chance(const Circuit& circuit, const std::vector<std::string>& readings, const std::string& fault,
                          double size = 0) {
    const Job job = job_of(circuit, readings);
    const Questions questions = make_questions(solver(), circuit, job);
    const Prediction prediction = Predictor(solver(), questions).predict(row_called(circuit, fault), {size, 0.5});
    REQUIRE(prediction.ok);
    REQUIRE_FALSE(prediction.words.empty());
    return prediction.words.back();
}

}  // namespace voltfall::testing
