#include "engine/planning/expected_numbers.hpp"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/suspect_trials.hpp"
#include "engine/readings/joint_normal.hpp"

namespace voltfall {

namespace {

/// An expected range holds 90 % (sigma).
constexpr double expected_sigmas = 1.645;
/// A reading that is so probably wrong tells nothing of the others.
constexpr double doubtful_above = 0.25;
constexpr std::size_t most_sizes = 5;
/// Things that one phrase may mean are one number as long as they differ by less than this many sigma.
constexpr double same_cells = 0.5;

/// The supply of a future state is that of the readings taken with the same key, where there are any.
std::size_t supply_among(std::span<const Supply> taken, const Supply& future, std::size_t own) {
    const auto same = std::find_if(taken.begin(), taken.end(), [&](const Supply& supply) {
        return supply.told == future.told && (supply.key == future.key || supply.key == future.key + "?");
    });
    return same == taken.end() ? own : static_cast<std::size_t>(same - taken.begin());
}

}  // namespace

ExpectedNumbers::ExpectedNumbers(const Outlook& outlook, std::span<const std::size_t> tests,
                                 std::span<const std::size_t> suspects)
    : outlook_(outlook), questions_(std::make_unique<Questions>(outlook.weighed->questions)) {
    const Questions& future = outlook.future.questions;
    const std::vector<Supply> taken = questions_->supplies;
    questions_->supplies = future.supplies;
    std::copy(taken.begin(), taken.end(), questions_->supplies.begin());
    questions_->words.clear();
    taken_ = questions_->numbers.size();
    // The job's own states stand first in the outlook's questions too; of the others only those that are asked are
    // solved.
    std::map<std::size_t, std::size_t> state_of;
    for (std::size_t i = 0; i < questions_->states.size(); ++i) state_of[i] = i;
    for (const std::size_t i : tests) {
        const TestCandidate& test = outlook.future.tests[i];
        if (!test.is_number()) continue;
        Cell cell = future.cells[test.cell];
        const auto [state, added] = state_of.try_emplace(cell.state, questions_->states.size());
        if (added) {
            JobState& asked = questions_->states.emplace_back(future.states[cell.state]);
            asked.supply = supply_among(taken, future.supplies[asked.supply], asked.supply);
        }
        cell.state = state->second;
        questions_->cells.push_back(cell);
        NumberObservation number;
        number.cells = {{1.0, questions_->cells.size() - 1}};
        number_of_test_[i] = questions_->numbers.size();
        questions_->numbers.push_back(std::move(number));
    }
    if (number_of_test_.empty()) return;
    const Predictor predictor(outlook.simulator, *questions_, outlook.options.dictionary);
    for (const std::size_t i : suspects) {
        const Suspect& suspect = outlook.suspect(i);
        const SuspectTrials trials(outlook.circuit, suspect, most_sizes);
        predictions_[i] = predictor.predict_all(suspect.mode, trials.list);
    }
}

std::optional<ExpectedRange> ExpectedNumbers::of(std::size_t test, std::size_t suspect) const {
    const auto number = number_of_test_.find(test);
    const auto predictions = predictions_.find(suspect);
    if (number == number_of_test_.end() || predictions == predictions_.end()) return std::nullopt;
    std::optional<ExpectedRange> range;
    for (const Prediction& prediction : predictions->second) {
        if (!prediction.ok) continue;
        const ExpectedRange one = range_of(prediction, number->second);
        if (!range) range = one;
        range->low = std::min(range->low, one.low);
        range->high = std::max(range->high, one.high);
    }
    return range;
}

/// One number, read in one place, and not doubted.
bool ExpectedNumbers::is_known(const Prediction& prediction, std::size_t number) const {
    const NumberObservation& observed = questions_->numbers[number];
    if (!observed.exact() || outlook_.weighed->wrong[observed.reading] > doubtful_above) return false;
    const std::size_t first = observed.cells.front().second;
    const double sigma = std::sqrt(prediction.variance[first] + observed.sigma * observed.sigma);
    return std::all_of(observed.cells.begin(), observed.cells.end(), [&](const auto& cell) {
        return std::abs(prediction.mean[cell.second] - prediction.mean[first]) < same_cells * sigma;
    });
}

ExpectedRange ExpectedNumbers::range_of(const Prediction& prediction, std::size_t number) const {
    const std::size_t all = questions_->numbers.size();
    std::vector<std::size_t> joint;
    for (std::size_t i = 0; i < taken_; ++i) {
        if (is_known(prediction, i)) joint.push_back(i);
    }
    joint.push_back(number);
    const std::size_t n = joint.size();
    std::vector<double> covariance(n * n);
    std::vector<double> residuals(n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        const NumberObservation& observed = questions_->numbers[joint[i]];
        for (std::size_t j = 0; j < n; ++j) covariance[i * n + j] = prediction.covariance[joint[i] * all + joint[j]];
        if (i + 1 == n) break;
        covariance[i * n + i] += observed.sigma * observed.sigma;
        residuals[i] = observed.value.low - prediction.mean[observed.cells.front().second];
    }
    const double mean = prediction.mean[questions_->numbers[number].cells.front().second];
    const JointNormal::Conditional given = JointNormal(covariance, n).given_the_others(residuals, n - 1);
    // Without a covariance that can be inverted the readings are left out.
    const bool told = std::isfinite(given.sigma);
    const double middle = told ? mean - given.residual : mean;
    const double sigma = told ? given.sigma : std::sqrt(prediction.covariance[number * all + number]);
    return {middle - expected_sigmas * sigma, middle + expected_sigmas * sigma};
}

}  // namespace voltfall
