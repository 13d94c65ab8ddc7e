// What an answer typed to a proposed test is kept as.
#pragma once

#include <string>

#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::testing {

/// The reading that the line makes of the test; "none" where it makes none.
inline std::string kept_answer(const Circuit& circuit, const std::string& asked, const std::string& line) {
    Problems problems;
    const auto test = read_test_phrase(TypedText::argument("test", asked), circuit, problems);
    REQUIRE(test);
    return reading_of_answer(circuit, *test, line).value_or("none");
}

}  // namespace voltfall::testing
