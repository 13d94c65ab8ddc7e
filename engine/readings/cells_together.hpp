// How far what several readings ask of one solved case moves together, and what the readings taken leave of it.
#pragma once

#include <functional>
#include <memory>
#include <span>

#include "engine/courses/dictionary.hpp"
#include "engine/readings/prediction.hpp"

namespace voltfall {

/// A cell's value as it is told: with its sign, or without where people leave the sign out.
struct ToldValue {
    std::shared_ptr<const CellValue> cell;
    double sign{1};

    double mean() const { return sign * cell->mean; }
    double supply() const { return sign * cell->supply; }
};

/// How far two cells move together by parts' tolerances and by a supply of this variance that both hang on.
double covariance(const ToldValue& a, const ToldValue& b, double supply_variance);

/// Variance of the supply in a state of the questions, V squared.
using SupplyVariance = std::function<double(std::size_t state)>;

/// Covariances of the number observations' first cells, once a pair of cells, however many readings are of it.
void fill_covariance(const Questions& questions, std::span<const ToldValue> values,
                     const SupplyVariance& supply_variance, Prediction& prediction);

/// Moves and narrows all means and variances by the readings that the questions give as taken: the same parts, the same
/// battery and the same instrument stand behind what is to come. A given reading that lies far from this case is left
/// out. `variance` may fall below zero: by what is known of the scale of the instrument that will read.
void know_given(const Questions& questions, std::span<const ToldValue> values, const SupplyVariance& supply_variance,
                Prediction& prediction);

}  // namespace voltfall
