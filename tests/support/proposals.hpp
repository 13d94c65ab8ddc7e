// Proposed tests as they are written, for tests of what is proposed.
#pragma once

#include <string>

#include "engine/planning/next.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/phrase_circuits.hpp"

namespace voltfall::testing {

inline std::string written(const TestProposal& proposal, const Circuit& circuit = cab_blower()) {
    return write_test(circuit, proposal.test);
}

inline std::size_t position_of(const NextAnswer& answer, const std::string& piece,
                               const Circuit& circuit = cab_blower()) {
    for (std::size_t i = 0; i < answer.tests.size(); ++i) {
        if (written(answer.tests[i], circuit).find(piece) != std::string::npos) return i;
    }
    return answer.tests.size();
}

inline std::string all_tests(const NextAnswer& answer, const Circuit& circuit = cab_blower()) {
    std::string text;
    for (const TestProposal& test : answer.tests) text += written(test, circuit) + "; ";
    return text;
}

}  // namespace voltfall::testing
