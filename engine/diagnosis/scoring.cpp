#include "engine/diagnosis/scoring.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <variant>

#include "engine/diagnosis/moments.hpp"
#include "engine/readings/accuracy.hpp"
#include "engine/readings/measurement_facts.hpp"
#include "engine/readings/word_evidence.hpp"

namespace voltfall {

namespace {

/// Things that one phrase may mean are one number as long as they differ by less than this many sigma.
constexpr double same_cells = 0.5;
/// Nothing is rarer than this: a table's zero is never certain.
constexpr double least_probability = 1e-6;
// What is only sometimes so, said of anything (ASSUMED).
constexpr double sometimes_anyway = 0.03;
constexpr double anything_sometimes = 0.3;

double anything_of_range(const NumberObservation& number, double density) {
    const double width = number.value.high - number.value.low;
    return std::isfinite(width) ? std::clamp(width * density, 0.05, 0.9) : 0.5;
}

/// Nothing but where the controls stand, and the key.
bool only_controls(const StatePhrase& state) {
    StatePhrase bare;
    bare.settings = state.settings;
    bare.key = state.key;
    bare.earlier = state.earlier;
    bare.sometimes = state.sometimes;
    return bare == state;
}

/// The same word of the same load or of the air, at other positions of the controls.
bool says_the_same(const Reading& one, const Reading& other) {
    if (one.state.earlier != other.state.earlier || one.state.sometimes != other.state.sometimes) return false;
    if (!only_controls(one.state) || !only_controls(other.state)) return false;
    if (const auto* load = std::get_if<LoadReading>(&one.measurement)) {
        const auto* also = std::get_if<LoadReading>(&other.measurement);
        return also && load->part == also->part && load->word == also->word;
    }
    if (const auto* air = std::get_if<AirReading>(&one.measurement)) {
        const auto* also = std::get_if<AirReading>(&other.measurement);
        return also && air->word == also->word;
    }
    return false;
}

}  // namespace

double second_world(Story story) {
    return story == Story::new_part ? new_part_is_bad : has_led_to_it;
}

Scorer::Scorer(const Questions& questions) : questions_(questions) {
    collect_statements();
}

void Scorer::collect_statements() {
    std::map<std::size_t, std::size_t> of_reading;
    for (std::size_t i = 0; i < questions_.words.size(); ++i) {
        const std::size_t reading = questions_.words[i].reading;
        const auto [entry, added] = of_reading.try_emplace(reading, statements_.size());
        if (added) {
            const auto like = std::find_if(statements_.begin(), statements_.end(), [&](const Statement& statement) {
                return says_the_same(questions_.reading(statement.readings.front()), questions_.reading(reading));
            });
            entry->second = static_cast<std::size_t>(like - statements_.begin());
            if (like == statements_.end()) statements_.emplace_back();
            statements_[entry->second].readings.push_back(reading);
        }
        statements_[entry->second].words.push_back(i);
    }
}

std::size_t Scorer::state_of(const NumberObservation& number) const {
    return questions_.cells[number.cells[0].second].state;
}

bool Scorer::is_amps(const NumberObservation& number) const {
    return questions_.cells[number.cells[0].second].is_amps;
}

Scorer::Prepared Scorer::prepare(const Prediction& p, StateFilter state) const {
    Prepared prepared;
    const std::size_t all = questions_.numbers.size();
    for (std::size_t i = 0; i < all; ++i) {
        const NumberObservation& number = questions_.numbers[i];
        if (!number.exact() || (state && state_of(number) != state)) continue;
        const std::size_t first = number.cells[0].second;
        const double sigma = std::sqrt(p.variance[first] + number.sigma * number.sigma);
        const bool one = std::all_of(number.cells.begin(), number.cells.end(), [&](const auto& cell) {
            return std::abs(p.mean[cell.second] - p.mean[first]) < same_cells * sigma;
        });
        if (one) prepared.joint.push_back(i);
    }
    const std::size_t n = prepared.joint.size();
    if (n == 0) return prepared;
    std::vector<double> covariance(n * n);
    for (std::size_t i = 0; i < n; ++i) {
        const NumberObservation& number = questions_.numbers[prepared.joint[i]];
        for (std::size_t j = 0; j < n; ++j) {
            const NumberObservation& other = questions_.numbers[prepared.joint[j]];
            const bool same_instrument = is_amps(number) == is_amps(other);
            covariance[i * n + j] = p.covariance[prepared.joint[i] * all + prepared.joint[j]] +
                                    (same_instrument ? shared_scale * number.scale * other.scale : 0);
        }
        covariance[i * n + i] += number.sigma * number.sigma - shared_scale * number.scale * number.scale;
    }
    std::vector<WrongReading> wrong;
    for (const std::size_t i : prepared.joint) wrong.push_back(questions_.numbers[i].wrong);
    prepared.normal.emplace(covariance, n, std::move(wrong));
    return prepared;
}

double Scorer::alone(const NumberObservation& number, const Prediction& p, double* wrong) const {
    double right = 0;
    for (const auto& [weight, cell] : number.cells) {
        const double sigma = std::sqrt(p.variance[cell] + number.sigma * number.sigma);
        if (number.exact()) {
            right += weight * std::exp(log_normal_density(number.value.low - p.mean[cell], sigma));
        } else {
            const double half_digit = number.value.last_digit / 2;
            right += weight *
                     normal_between(number.value.low - half_digit, number.value.high + half_digit, p.mean[cell], sigma);
        }
    }
    const double anything = number.exact() ? number.wrong.density : anything_of_range(number, number.wrong.density);
    const double sum = (1 - number.wrong.chance) * right + number.wrong.chance * anything;
    if (wrong) *wrong = number.wrong.chance * anything / sum;
    return std::log(std::max(sum, 1e-300));
}

Scorer::Stays Scorer::stays(const Prediction& p) {
    return p.comes_and_goes ? Stays::comes_and_goes : Stays::always;
}

double Scorer::say(const Statement& statement, const Prediction& p, Stays stays, double* wrong) const {
    double right = 1;
    double anything = 0;
    double chance = 0;
    // The same idea of a word is held against every position: it fits them all as often as it fits the worst.
    for (const std::size_t i : statement.words) {
        const WordObservation& word = questions_.words[i];
        right = std::min(right, std::max(p.words[i], least_probability));
        chance = word.wrong;
        anything = word.wrong * word.by_chance;
    }
    if (questions_.reading(statement.readings.front()).state.sometimes) {
        right = (stays == Stays::comes_and_goes ? sometimes_if_loose : sometimes_if_lasting) * right +
                sometimes_anyway * questions_.words[statement.words.front()].by_chance;
    }
    const double sum = (1 - chance) * right + anything;
    if (wrong) *wrong = anything / sum;
    return std::log(sum);
}

double Scorer::score_numbers(const Prediction& p, const Prepared& prepared, StateFilter state,
                             std::vector<double>* wrong) const {
    const auto note = [&](std::size_t reading, double chance) {
        if (wrong) (*wrong)[reading] = std::max((*wrong)[reading], chance);
    };
    double sum = 0;
    if (prepared.normal) {
        std::vector<double> residuals;
        residuals.reserve(prepared.joint.size());
        for (const std::size_t i : prepared.joint) {
            const NumberObservation& number = questions_.numbers[i];
            residuals.push_back(number.value.low - p.mean[number.cells[0].second]);
        }
        std::vector<double> each;
        sum += prepared.normal->log_likelihood(residuals, wrong ? &each : nullptr);
        for (std::size_t i = 0; i < each.size(); ++i) note(questions_.numbers[prepared.joint[i]].reading, each[i]);
    }
    std::size_t next = 0;
    for (std::size_t i = 0; i < questions_.numbers.size(); ++i) {
        if (next < prepared.joint.size() && prepared.joint[next] == i) {
            ++next;
            continue;
        }
        if (state && state_of(questions_.numbers[i]) != state) continue;
        double chance = 0;
        sum += alone(questions_.numbers[i], p, &chance);
        note(questions_.numbers[i].reading, chance);
    }
    return sum;
}

double Scorer::score(const Prediction& p, const Prepared& prepared, std::vector<double>* wrong) const {
    if (wrong) wrong->assign(questions_.job->readings.size(), 0.0);
    double sum = score_numbers(p, prepared, std::nullopt, wrong);
    for (const Statement& statement : statements_) {
        double chance = 0;
        sum += say(statement, p, stays(p), &chance);
        for (const std::size_t reading : statement.readings) {
            if (wrong) (*wrong)[reading] = std::max((*wrong)[reading], chance);
        }
    }
    return sum;
}

double Scorer::score(Story story, const Prediction& first, const Prediction& second) const {
    switch (story) {
        case Story::plain:
            return score(first);
        case Story::new_part:
        case Story::led_on:
            return log_add(std::log1p(-second_world(story)) + score(first),
                           std::log(second_world(story)) + score(second));
        case Story::may_come_and_go:
            return log_add(std::log(lasting_though_loose) + score_lasting(first),
                           std::log1p(-lasting_though_loose) + score_coming_and_going(first, second));
        case Story::intermittent:
            break;
    }
    return score_coming_and_going(first, second);
}

double Scorer::score_lasting(const Prediction& p) const {
    double sum = score_numbers(p, prepare(p, std::nullopt), std::nullopt, nullptr);
    for (const Statement& statement : statements_) sum += say(statement, p, Stays::always, nullptr);
    return sum;
}

double Scorer::score_of_none() const {
    double sum = 0;
    for (const NumberObservation& number : questions_.numbers) {
        const bool amps = questions_.cells[number.cells[0].second].is_amps;
        const double density = amps ? 1 / 60.0 : 1 / (1.3 * questions_.circuit->supply);
        sum += std::log(number.exact() ? density : anything_of_range(number, density));
    }
    for (const Statement& statement : statements_) {
        const Reading& said = questions_.reading(statement.readings.front());
        const double anything = word_of_any_cause(*questions_.circuit, said);
        sum += std::log(anything * (said.state.sometimes ? anything_sometimes : 1));
    }
    return sum;
}

double Scorer::score_of_reading(const Prediction& p, std::size_t reading) const {
    double sum = 0;
    for (const NumberObservation& number : questions_.numbers) {
        if (number.reading == reading) sum += alone(number, p, nullptr);
    }
    for (const Statement& statement : statements_) {
        const auto& says = statement.readings;
        if (std::find(says.begin(), says.end(), reading) != says.end()) sum += say(statement, p, stays(p), nullptr);
    }
    return sum;
}

Scorer::Residual Scorer::residual(const Prediction& p, std::size_t index) const {
    const NumberObservation& number = questions_.numbers[index];
    Residual r;
    double variance = 0;
    for (const auto& [weight, cell] : number.cells) {
        r.predicted += weight * p.mean[cell];
        variance += weight * p.variance[cell];
    }
    r.sigma = std::sqrt(variance + number.sigma * number.sigma);
    r.residual = std::clamp(r.predicted, number.value.low, number.value.high) - r.predicted;
    return r;
}

Scorer::Residual Scorer::residual_given_others(const Prediction& p, const Prepared& prepared, std::size_t index) const {
    const auto at = std::find(prepared.joint.begin(), prepared.joint.end(), index);
    if (at == prepared.joint.end()) return residual(p, index);
    std::vector<double> residuals;
    for (const std::size_t i : prepared.joint) {
        const NumberObservation& number = questions_.numbers[i];
        residuals.push_back(number.value.low - p.mean[number.cells[0].second]);
    }
    const auto given =
        prepared.normal->given_the_others(residuals, static_cast<std::size_t>(at - prepared.joint.begin()));
    return {questions_.numbers[index].value.low - given.residual, given.residual, given.sigma};
}

}  // namespace voltfall
