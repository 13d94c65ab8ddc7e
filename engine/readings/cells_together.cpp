#include "engine/readings/cells_together.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/joint_normal.hpp"

namespace voltfall {

double covariance(const ToldValue& a, const ToldValue& b, double supply_variance) {
    const std::vector<double>& of_a = a.cell->slope;
    const std::vector<double>& of_b = b.cell->slope;
    double sum = a.cell->supply * b.cell->supply * supply_variance;
    for (std::size_t i = 0; i < of_a.size() && i < of_b.size(); ++i) sum += of_a[i] * of_b[i];
    return a.sign * b.sign * sum;
}

namespace {

/// How far cells that several readings may share move together: by parts' tolerances and by the supply.
class CellsTogether {
public:
    explicit CellsTogether(std::span<const ToldValue> values) : values_(values), sum_(values.size()) {
        std::size_t parts = 0;
        for (const ToldValue& value : values) parts = std::max(parts, value.cell->slope.size());
        slopes_.assign(parts * values.size(), 0.0);
        for (std::size_t i = 0; i < values.size(); ++i) {
            const std::vector<double>& slope = values[i].cell->slope;
            for (std::size_t part = 0; part < slope.size(); ++part) slopes_[part * values.size() + i] = slope[part];
        }
    }

    /// Covariances of one cell with those in front of it and itself. All of them are added up side by side, part by
    /// part: one after the other, each addition would wait for the last.
    template <class SupplyVariance>
    std::span<const double> with_those_before(std::size_t cell, const SupplyVariance& supply_variance) {
        const ToldValue& value = values_[cell];
        for (std::size_t j = 0; j <= cell; ++j)
            sum_[j] = value.cell->supply * values_[j].cell->supply * supply_variance(cell, j);
        const std::vector<double>& slope = value.cell->slope;
        for (std::size_t part = 0; part < slope.size(); ++part) {
            if (slope[part] == 0) continue;
            const double* const others = slopes_.data() + part * values_.size();
            for (std::size_t j = 0; j <= cell; ++j) sum_[j] += slope[part] * others[j];
        }
        for (std::size_t j = 0; j <= cell; ++j) sum_[j] = value.sign * values_[j].sign * sum_[j];
        return std::span(sum_).first(cell + 1);
    }

private:
    std::span<const ToldValue> values_;
    std::vector<double> slopes_;  ///< by part, then by cell
    std::vector<double> sum_;
};

}  // namespace

void fill_covariance(const Questions& questions, std::span<const ToldValue> values,
                     const SupplyVariance& supply_variance, Prediction& p) {
    const std::size_t n = questions.numbers.size();
    std::vector<std::size_t> place_of(values.size(), values.size());
    std::vector<std::size_t> cells;  // that numbers are first of
    std::vector<std::size_t> place;  // of each number's first cell among them
    std::vector<ToldValue> told;
    for (const NumberObservation& number : questions.numbers) {
        const std::size_t cell = number.cells[0].second;
        if (place_of[cell] == values.size()) {
            place_of[cell] = cells.size();
            cells.push_back(cell);
            told.push_back(values[cell]);
        }
        place.push_back(place_of[cell]);
    }
    const auto shared_supply = [&](std::size_t a, std::size_t b) {
        const std::size_t state = questions.cells[cells[a]].state;
        const std::size_t other = questions.cells[cells[b]].state;
        return questions.states[state].supply == questions.states[other].supply ? supply_variance(state) : 0;
    };
    const std::size_t m = cells.size();
    std::vector<double> of_cells(m * m);
    CellsTogether together(told);
    for (std::size_t a = 0; a < m; ++a) {
        const std::span<const double> row = together.with_those_before(a, shared_supply);
        for (std::size_t b = 0; b <= a; ++b) of_cells[a * m + b] = of_cells[b * m + a] = row[b];
    }
    std::vector<double> model;  // sigmas, by place
    for (std::size_t a = 0; a < m; ++a)
        model.push_back(relative_model_sigma(questions.cells[cells[a]].is_amps, told[a].mean()));
    const auto model_covariance = [&](std::size_t a, std::size_t b) {
        const Cell& one = questions.cells[cells[a]];
        const Cell& other = questions.cells[cells[b]];
        if (!questions.of_one_setting(one.state, other.state) || one.is_amps != other.is_amps) return 0.0;
        return shared_scale * model[a] * model[b];
    };
    p.covariance.resize(n * n);
    for (std::size_t a = 0; a < n; ++a) {
        const double* const row = of_cells.data() + place[a] * m;
        for (std::size_t b = 0; b < a; ++b) {
            p.covariance[a * n + b] = p.covariance[b * n + a] = row[place[b]] + model_covariance(place[a], place[b]);
        }
        p.covariance[a * n + a] = p.variance[cells[place[a]]];
    }
}

namespace {

/// A given reading this far from the case, in sigma, is wrong or of another moment (ASSUMED).
constexpr double far_off_sigmas = 3;

/// The given readings that a case may have shown, and what they leave of the cells.
class Given {
public:
    Given(const Questions& questions, std::span<const ToldValue> values, const SupplyVariance& supply_variance,
          const Prediction& prediction)
        : questions_(questions), values_(values), supply_variance_(supply_variance), prediction_(prediction) {
        for (const GivenNumber& number : questions.given) {
            const double residual = number.value - prediction.mean[number.cell];
            const double sigma = std::sqrt(prediction.variance[number.cell] + number.sigma * number.sigma);
            if (std::abs(residual) > far_off_sigmas * sigma) continue;
            numbers_.push_back(&number);
            residuals_.push_back(residual);
        }
        const std::size_t n = numbers_.size();
        std::vector<double> matrix(n * n);
        for (std::size_t a = 0; a < n; ++a) {
            const GivenNumber& number = *numbers_[a];
            for (std::size_t b = 0; b < a; ++b) {
                const double both = of_cells(number.cell, numbers_[b]->cell) + of_scales(number, *numbers_[b]);
                matrix[a * n + b] = matrix[b * n + a] = both;
            }
            matrix[a * n + a] = prediction.variance[number.cell] + number.sigma * number.sigma;
        }
        if (n > 0) normal_.emplace(matrix, n);
    }

    bool tells() const { return normal_ && normal_->can_be_weighed(); }

    JointNormal::Told of_cell(std::size_t cell, double relative_scale) const {
        std::vector<double> with;
        for (const GivenNumber* number : numbers_) {
            double both = of_cells(cell, number->cell);
            if (questions_.cells[cell].is_amps == questions_.cells[number->cell].is_amps)
                both += relative_scale * prediction_.mean[cell] * number->scale;
            // The very cell: its own error of the model too.
            if (cell == number->cell) both += prediction_.variance[cell] - of_cells(cell, cell);
            with.push_back(both);
        }
        return normal_->told_of(with, residuals_);
    }

    /// Variance that the readings take from the supply of a state.
    double of_supply(std::size_t state) const {
        std::vector<double> with;
        for (const GivenNumber* number : numbers_)
            with.push_back(values_[number->cell].supply() * shared_supply(state, questions_.cells[number->cell].state));
        return normal_->told_of(with, residuals_).variance;
    }

private:
    double shared_supply(std::size_t state, std::size_t other) const {
        return questions_.states[state].supply == questions_.states[other].supply ? supply_variance_(state) : 0;
    }

    double of_cells(std::size_t a, std::size_t b) const {
        const Cell& one = questions_.cells[a];
        const Cell& other = questions_.cells[b];
        double sum = covariance(values_[a], values_[b], shared_supply(one.state, other.state));
        if (questions_.of_one_setting(one.state, other.state) && one.is_amps == other.is_amps)
            sum += shared_scale * relative_model_sigma(one.is_amps, values_[a].mean()) *
                   relative_model_sigma(other.is_amps, values_[b].mean());
        return sum;
    }

    double of_scales(const GivenNumber& a, const GivenNumber& b) const {
        return questions_.cells[a.cell].is_amps == questions_.cells[b.cell].is_amps ? a.scale * b.scale : 0;
    }

    const Questions& questions_;
    std::span<const ToldValue> values_;
    const SupplyVariance& supply_variance_;
    const Prediction& prediction_;
    std::vector<const GivenNumber*> numbers_;
    std::vector<double> residuals_;
    std::optional<JointNormal> normal_;
};

}  // namespace

void know_given(const Questions& questions, std::span<const ToldValue> values, const SupplyVariance& supply_variance,
                Prediction& prediction) {
    if (questions.given.empty()) return;
    const Given given(questions, values, supply_variance, prediction);
    if (!given.tells()) return;
    std::vector<double> mean = prediction.mean;
    std::vector<double> variance = prediction.variance;
    std::vector<std::optional<double>> of_supply(questions.states.size());
    for (std::size_t i = 0; i < questions.cells.size(); ++i) {
        const JointNormal::Told told = given.of_cell(i, questions.scale_of(questions.cells[i].is_amps));
        mean[i] += told.mean;
        variance[i] -= told.variance;
        const std::size_t state = questions.cells[i].state;
        if (!of_supply[state]) of_supply[state] = given.of_supply(state);
        const double left = std::max(0.0, supply_variance(state) - *of_supply[state]);
        prediction.supply_variance[i] = values[i].supply() * values[i].supply() * left;
    }
    prediction.mean = std::move(mean);
    prediction.variance = std::move(variance);
}

}  // namespace voltfall
