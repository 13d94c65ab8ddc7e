#include <algorithm>
#include <cmath>
#include <map>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/idle_tests.hpp"
#include "engine/planning/outlook.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::circuit_of;
using voltfall::testing::job_of;

namespace {

/// Lamps behind switches of their own that share a fuse and a ground: most points do not care about most positions.
const Circuit& lamps() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(
format = 1
name = "reading lamps"
supply = "12V"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 15A, feed 30"
SP1 = "splice"
SP2 = "splice"
G1 = "ground shelf post"
S1 = "switch C: off on=1"
S2 = "switch C: off on=1"
S3 = "switch C: off on=1"
L1 = "lamp 21W"
L2 = "lamp 21W"
L3 = "lamp 21W"
[wires]
w1 = "F1.2 > SP1 2.5mm2 RD 1m"
w2 = "SP2 > G1 2.5mm2 BK 1m"
x1a = "SP1 > S1.C 1.5mm2 RD 1m"
x1b = "S1.1 > L1.1 1.5mm2 YE 1m"
x1c = "L1.2 > SP2 1.5mm2 BK 1m"
x2a = "SP1 > S2.C 1.5mm2 RD 1m"
x2b = "S2.1 > L2.1 1.5mm2 YE 1m"
x2c = "L2.2 > SP2 1.5mm2 BK 1m"
x3a = "SP1 > S3.C 1.5mm2 RD 1m"
x3b = "S3.1 > L3.1 1.5mm2 YE 1m"
x3c = "L3.2 > SP2 1.5mm2 BK 1m"
[controls]
S1 = "shelf 1"
S2 = "shelf 2"
S3 = "shelf 3"
)");
    return *circuit;
}

}  // namespace

TEST_CASE("a test left out as idle tells nothing, or no more than the same one in another state") {
    struct Asked {
        const Circuit& circuit;
        std::vector<std::string> readings;
    };
    const std::vector<Asked> jobs{
        {lamps(), {"S3=on L3 dead"}},
        {lamps(), {"S3=on L3 dim", "S1=on L1 dim"}},
        {cab_blower(), {"hi blower dead"}},
        {cab_blower(), {"key run, hi blower slow", "key run, hi M1.1 to B1- 11.0V"}},
        {cab_blower(), {"hi blower erratic"}},
    };
    std::size_t idle = 0;
    std::size_t repeats = 0;
    std::size_t kept = 0;
    for (const Asked& asked : jobs) {
        const Job job = job_of(asked.circuit, asked.readings);
        const MatchOptions options;
        const auto weighed = weigh(solver(), asked.circuit, job, options);
        // All tests with their spreads, against the same tests as they are marked.
        const Future all = future_of(solver(), asked.circuit, job, *weighed);
        Future future = future_of(solver(), asked.circuit, job, *weighed);
        REQUIRE(all.tests.size() == future.tests.size());
        const Predictor predictor(solver(), future.questions);
        const Standings standings = standings_of(solver(), asked.circuit, *weighed, future, predictor, options);
        const Predictor of_all(solver(), all.questions);
        Standings unmarked;
        unmarked.groups = standings.groups;
        for (std::size_t g = 0; g < standings.groups.size(); ++g) {
            for (const std::size_t i : standings.groups[g].suspects) {
                const Suspect& suspect = weighed->suspects[i];
                Standing& standing = unmarked.list.emplace_back(Standing{i, g, suspect.probability, {}});
                standing.prediction =
                    of_all.predict(suspect.mode, {suspect.best.size, suspect.best.where, suspect.world()});
                REQUIRE(standing.prediction.ok);
            }
        }
        const auto bits = [&](std::size_t i) {
            return bits_of(asked.circuit, job, *weighed, all.tests[i], unmarked, SupplyKnown::yes);
        };
        std::map<std::size_t, double> most;  // by step, of the tests that stay
        for (std::size_t i = 0; i < future.tests.size(); ++i) {
            if (future.tests[i].idle) continue;
            ++kept;
            most[future.tests[i].step] = std::max(most[future.tests[i].step], bits(i));
        }
        for (std::size_t i = 0; i < future.tests.size(); ++i) {
            if (!future.tests[i].idle) continue;
            ++idle;
            const double told = bits(i);
            INFO(asked.readings.front() << ": " << write_test(asked.circuit, all.tests[i].test) << " " << told);
            if (told < 1e-6) continue;
            ++repeats;
            REQUIRE(most.count(future.tests[i].step) == 1);
            CHECK(told < most[future.tests[i].step] + 0.02);
        }
        // What is idle is asked of nobody.
        CHECK(future.questions.cells.size() < all.questions.cells.size());
    }
    CHECK(idle > 100);
    CHECK(repeats > 5);
    CHECK(kept > 100);
}

TEST_CASE("where the state of a test is forbidden another state that reads the same stands in for it") {
    const Job job = job_of(lamps(), {"S3=on L3 dim", "S1=on L1 dim"});
    const MatchOptions options;
    const auto weighed = weigh(solver(), lamps(), job, options);
    Future future = future_of(solver(), lamps(), job, *weighed);
    const Predictor predictor(solver(), future.questions);
    const Standings standings = standings_of(solver(), lamps(), *weighed, future, predictor, options);
    const auto first = std::find_if(future.tests.begin(), future.tests.end(),
                                    [](const TestCandidate& test) { return test.read_in.has_value(); });
    REQUIRE(first != future.tests.end());
    const TestCandidate kept = future.tests[*first->read_in];
    const std::size_t burnt = kept.state;
    std::vector<bool> forbidden;
    for (const TestCandidate& test : future.tests) forbidden.push_back(test.state == burnt && !test.is_stateless());
    std::map<std::size_t, std::size_t> repeats;  // permitted, by the test they repeat
    for (std::size_t i = 0; i < future.tests.size(); ++i) {
        const TestCandidate& test = future.tests[i];
        if (test.read_in && !forbidden[i] && forbidden[*test.read_in]) ++repeats[*test.read_in];
    }
    REQUIRE_FALSE(repeats.empty());
    replace_forbidden_tests(future, forbidden);
    for (const auto& [stood, count] : repeats) {
        std::size_t stand_in = 0;
        for (std::size_t i = 0; i < future.tests.size(); ++i) {
            const TestCandidate& test = future.tests[i];
            if (test.idle || test.read_in != stood) continue;
            ++stand_in;
            CHECK_FALSE(forbidden[i]);
            CHECK(test.step == future.tests[stood].step);
            // It tells what the forbidden one would.
            const auto told = [&](const TestCandidate& one) {
                return bits_of(lamps(), job, *weighed, one, standings, SupplyKnown::yes);
            };
            CHECK(std::abs(told(test) - told(future.tests[stood])) < 0.02);
        }
        CHECK(stand_in == 1);
    }
}
