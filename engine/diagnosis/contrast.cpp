#include "engine/diagnosis/contrast.hpp"

#include <algorithm>
#include <cmath>

#include "engine/readings/rounding.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

/// A difference in ln likelihood that is worth a line.
constexpr double worth_a_line = 1.0;
/// A suspect this much less probable than the leader is no second.
constexpr double least_of_leader = 2e-4;

struct Weight {
    double for_leader{};  ///< ln likelihood of the leader less that of the second
    std::optional<std::size_t> number;
};

Weight weight_of(const Scorer& scorer, const Suspect& leader, const Suspect& second, std::size_t reading) {
    const auto& numbers = scorer.questions().numbers;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        if (numbers[i].reading != reading) continue;
        const auto misfit = [&](const Suspect& suspect) {
            const Scorer::Residual own = scorer.residual(suspect.at_best, i);
            return 0.5 * own.residual * own.residual / (own.sigma * own.sigma);
        };
        return {misfit(second) - misfit(leader), i};
    }
    return {scorer.score_of_reading(leader.at_best, reading) - scorer.score_of_reading(second.at_best, reading),
            std::nullopt};
}

std::string expected_words(bool fits) {
    return fits ? "expected" : "not expected";
}

ContrastRow row_of(const Weighed& weighed, const Scorer& scorer, const Suspect& leader, const Suspect& second,
                   std::size_t reading, const Weight& weight) {
    const Reading& read = weighed.questions.reading(reading);
    const Circuit& circuit = *weighed.questions.circuit;
    ContrastRow row;
    row.reading = read.id;
    row.asked = write_test(circuit, test_of(read));
    row.read = write_value(circuit, read.measurement);
    row.speaks_for_first = weight.for_leader > 0;
    if (weight.number) {
        const auto& cells = weighed.questions.numbers[*weight.number].cells;
        const bool amps = weighed.questions.cells[cells.front().second].is_amps;
        row.first = as_meter(scorer.residual(leader.at_best, *weight.number).predicted, amps);
        row.second = as_meter(scorer.residual(second.at_best, *weight.number).predicted, amps);
    } else {
        row.first = expected_words(row.speaks_for_first);
        row.second = expected_words(!row.speaks_for_first);
    }
    return row;
}

std::string repair_of(const Suspect& suspect) {
    return suspect.mode ? suspect.mode->repair : std::string();
}

}  // namespace

std::optional<Contrast> contrast_of(const Weighed& weighed, const std::vector<std::size_t>& ranked) {
    const Suspect& leader = weighed.suspects[ranked.front()];
    if (!leader.at_best.ok) return std::nullopt;
    const Scorer scorer(weighed.questions);
    for (std::size_t k = 1; k < ranked.size(); ++k) {
        const Suspect& second = weighed.suspects[ranked[k]];
        if (second.probability < least_of_leader * leader.probability) break;
        if (!second.at_best.ok || repair_of(second) == repair_of(leader)) continue;
        std::vector<std::pair<double, std::size_t>> order;
        for (std::size_t i = 0; i < weighed.questions.job->readings.size(); ++i) {
            const double weight = weight_of(scorer, leader, second, i).for_leader;
            if (std::abs(weight) > worth_a_line) order.emplace_back(-std::abs(weight), i);
        }
        if (order.empty()) continue;
        std::sort(order.begin(), order.end());
        Contrast contrast{leader.phrase(), second.phrase(), {}};
        for (const auto& [weight, reading] : order) {
            contrast.rows.push_back(
                row_of(weighed, scorer, leader, second, reading, weight_of(scorer, leader, second, reading)));
        }
        return contrast;
    }
    return std::nullopt;
}

}  // namespace voltfall
