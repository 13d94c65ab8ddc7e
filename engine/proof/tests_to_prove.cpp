#include "engine/proof/tests_to_prove.hpp"

#include <algorithm>

#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

std::vector<Test> tests_to_prove(const Circuit& circuit, const ProofAnswer& answer) {
    std::vector<Test> tests;
    for (const CheckResult result : {CheckResult::open, CheckResult::failed}) {
        for (const ProofCheck& check : answer.checks) {
            if (check.result != result || check.closes.empty()) continue;
            Problems problems;
            const auto test = read_test_phrase(TypedText::argument("test", check.closes), circuit, problems);
            if (!test || problems.has_errors() || std::holds_alternative<NoTest>(test->tested)) continue;
            if (std::find(tests.begin(), tests.end(), *test) == tests.end()) tests.push_back(*test);
        }
    }
    return tests;
}

}  // namespace voltfall
