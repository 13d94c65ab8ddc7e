#include "engine/diagnosis/calibration.hpp"

#include <cmath>
#include <numeric>

#include "engine/diagnosis/repair_chances.hpp"
#include "engine/diagnosis/weighing.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

namespace {

/// The first fault of this place.
const FaultMode* at_place(const Circuit& circuit, const std::string& place, std::size_t number = 0) {
    for (const ModePtr& mode : circuit.modes) {
        if (mode->catalogued && visited_place(circuit, *mode) == place && number-- == 0) return mode.get();
    }
    return nullptr;
}

Suspect suspect_of(const FaultMode* mode) {
    Suspect suspect;
    suspect.mode = mode;
    return suspect;
}

}  // namespace

TEST_CASE("a power of the chances is taken by repair, and its faults keep their shares") {
    const Circuit& circuit = cab_blower();
    // Nothing, two faults of one plug, one of the motor, and none of these.
    const FaultMode* first = at_place(circuit, "C101", 0);
    const FaultMode* second = at_place(circuit, "C101", 1);
    const FaultMode* motor = at_place(circuit, "M1", 0);
    REQUIRE(first);
    REQUIRE(second);
    REQUIRE(motor);
    const std::vector<Suspect> suspects{suspect_of(nullptr), suspect_of(first), suspect_of(second), suspect_of(motor)};
    const std::vector<double> chances{0.02, 0.45, 0.15, 0.28, 0.10};
    const std::vector<double> same = calibrated(circuit, suspects, chances, 1);
    for (std::size_t i = 0; i < chances.size(); ++i) CHECK(std::abs(same[i] - chances[i]) < 1e-12);

    // Temperature scaling by hand: 0.6^1.25, 0.28^1.25, 0.02^1.25 and 0.1^1.25 over their sum.
    const std::vector<double> scaled = calibrated(circuit, suspects, chances, 1.25);
    const double sum = 0.52807 + 0.20368 + 0.0075212 + 0.056234;
    CHECK(std::abs(scaled[1] + scaled[2] - 0.52807 / sum) < 1e-4);
    CHECK(std::abs(scaled[1] / scaled[2] - 3) < 1e-9);
    CHECK(std::abs(scaled[3] - 0.20368 / sum) < 1e-4);
    CHECK(std::abs(scaled[0] - 0.0075212 / sum) < 1e-4);
    CHECK(std::abs(scaled[4] - 0.056234 / sum) < 1e-4);
    CHECK(std::abs(std::accumulate(scaled.begin(), scaled.end(), 0.0) - 1) < 1e-12);
}

TEST_CASE("chances are raised where words were heard, and are plain Bayes for numbers alone") {
    const MatchOptions options;
    const auto posterior = [&](const std::vector<std::string>& readings) {
        const Job job = job_of(cab_blower(), readings);
        return weigh(solver(), cab_blower(), job, options);
    };
    // Two suspects' odds are those of prior and likelihood, or that power of them as repairs.
    const auto log_odds = [](const Weighed& weighed, std::size_t a, std::size_t b) {
        const auto log_weight = [&](std::size_t i) {
            return weighed.suspects[i].log_evidence + std::log(weighed.suspects[i].prior);
        };
        return log_weight(a) - log_weight(b);
    };
    const auto stated = [](const Weighed& weighed, std::size_t a, std::size_t b) {
        return std::log(weighed.suspects[a].probability / weighed.suspects[b].probability);
    };
    const auto numbers = posterior({"hi M1.1 to M1.2 9.0V"});
    const auto ranked = numbers->ranked();
    CHECK(std::abs(stated(*numbers, ranked[0], ranked[5]) - log_odds(*numbers, ranked[0], ranked[5])) < 1e-9);

    // Words alone: each repair's weight to that power, against any other's.
    const auto words = posterior({"hi blower slow", "lo blower normal"});
    std::map<std::string, double> weights;  // of the repairs, before the power
    for (const Suspect& suspect : words->suspects) {
        const std::string place = suspect.mode ? visited_place(cab_blower(), *suspect.mode) : "nothing";
        weights[place] += std::exp(suspect.log_evidence) * suspect.prior;
    }
    const auto chances = repair_chances(cab_blower(), *words, 1e-3);
    REQUIRE(chances.size() > 5);
    double widest = 0;
    for (const RepairChance& chance : chances) {
        const double plain = std::log(weights.at(chances.front().place) / weights.at(chance.place));
        const double raised = std::log(chances.front().probability / chance.probability);
        widest = std::max(widest, plain);
        CHECK(std::abs(raised - default_value("words_power") * plain) < 1e-4);
    }
    CHECK(widest > 1);

    MatchOptions plainly;
    plainly.calibrated = false;
    const Job job = job_of(cab_blower(), {"hi blower slow"});
    const auto plain = weigh(solver(), cab_blower(), job, plainly);
    const auto order = plain->ranked();
    CHECK(std::abs(stated(*plain, order[0], order[5]) - log_odds(*plain, order[0], order[5])) < 1e-9);
}
