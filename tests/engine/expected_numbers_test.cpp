// What next expects of a test, with the readings taken so far known.
#include "engine/planning/expected_numbers.hpp"

#include <algorithm>
#include <cmath>

#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// Two resistors in series, the second known to 10 % only.
const Circuit& resistors() {
    static const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
R1 = "resistor 2ohm 0.5% 100W"
R2 = "resistor 3ohm 10% 100W"
G1 = "ground"
[wires]
1 = "F1.2 > R1.1 2.5mm2 RD 1m"
2 = "R1.2 > R2.1 2.5mm2 RD 1m"
3 = "R2.2 > G1 2.5mm2 BK 1m"
)");
    return *circuit;
}

/// What is expected of a clamp around wire 1 in the sound circuit.
ExpectedRange expected_amps(const std::vector<std::string>& readings) {
    const Job job = job_of(resistors(), readings);
    const MatchOptions options;
    const Outlook outlook(solver(), resistors(), job, options);
    for (std::size_t i = 0; i < outlook.future.tests.size(); ++i) {
        const auto* amps = std::get_if<AmpsTest>(&outlook.future.tests[i].test.tested);
        if (!amps) continue;
        const auto range = expected_number(outlook, outlook.future.tests[i], 0);
        REQUIRE(range);
        return *range;
    }
    FAIL("no clamp is proposed");
    return {};
}

double middle(const ExpectedRange& range) {
    return (range.low + range.high) / 2;
}
double width(const ExpectedRange& range) {
    return range.high - range.low;
}

}  // namespace

TEST_CASE("volts read across known ohms tell what the clamp will show (Ohm's law)") {
    // 12.6 V over 2 and 3 ohm and some hundredths of the way: 2.5 A, known to the 3.3 % of one sigma of R2.
    const ExpectedRange before = expected_amps({"key on  B1+ to B1- 12.6V"});
    CHECK(middle(before) == Approx(2.49).epsilon(0.01));
    // 4.85 V across 2 ohm are 2.425 A: R2 has 3 % more than its line says.
    const ExpectedRange after = expected_amps({"key on  B1+ to B1- 12.6V", "key on  R1.1 to R1.2 4.85V"});
    CHECK(middle(after) == Approx(4.85 / 2).epsilon(0.01));
    CHECK(middle(after) < 0.985 * middle(before));
    CHECK(width(after) < 0.85 * width(before));
    // A reading that its own writer doubts, and that nothing could show, moves nothing.
    const ExpectedRange doubted = expected_amps({"key on  B1+ to B1- 12.6V", "key on  R1.1 to R1.2 1.5V ?"});
    CHECK(middle(doubted) == Approx(middle(before)).epsilon(0.005));
}

TEST_CASE("one meter's scale stands behind all of its readings") {
    // By hand at 12.55 V: a supply known to 0.1 V and a model to 0.5 % are 0.0139 V^2, the meter's 0.8 % and 3 digits
    // 0.0042 V^2 more in what was read. Of them the supply, the scale, 0.05 V, and nine tenths of what the model has wrong
    // of this setting are the same in the next reading: (0.01 + 0.0025 + 0.0035)^2 / 0.0181 = 0.0141 is told of 0.0139,
    // and the scale's own 0.0025 are counted again where it is read. Without the scale 0.0039 would be left, without the
    // model's share 0.0053.
    const Job job = job_of(resistors(), {"key on  B1+ to B1- 12.6V", "key on  F1.2 to B1- 12.55V"});
    const MatchOptions options;
    const Outlook outlook(solver(), resistors(), job, options);
    std::size_t found = 0;
    for (const TestCandidate& test : outlook.future.tests) {
        if (test.idle || write_test(resistors(), test.test).find("R1.1 to B1-") == std::string::npos) continue;
        for (const Standing& standing : outlook.standings.list) {
            if (standing.suspect != 0) continue;
            ++found;
            CHECK(standing.prediction.variance[test.cell] < 0.0015);
        }
    }
    CHECK(found > 0);
}
