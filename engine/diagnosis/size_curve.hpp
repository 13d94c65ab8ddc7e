// One mode's readings as a smooth function of its size: solved at a few sizes, weighed at many.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <vector>

#include "engine/diagnosis/scoring.hpp"

namespace voltfall {

/// A size at which the mode was solved. `at` is the size on the scale in which it is evenly likely (its logarithm, or
/// itself).
struct CurvePoint {
    double at{};
    double size{};
    std::array<Prediction, 2> worlds;  ///< the second is used by two-world stories only
};

/// All sizes solved at one place along the wire (or at the only place), ascending.
struct SizeCurve {
    double where{0.5};
    double share{1};         ///< of the wire's length for which the place stands
    bool logarithmic{true};  ///< scale of `at`
    double range{0};         ///< of the mode's sizes on that scale; the points may cover less of it
    std::vector<CurvePoint> points;

    void insert(CurvePoint point);

    /// Likelihoods (ln) told already of what lies between two points, by those two and the ones beyond them, which
    /// give the curve its slopes; of one point by itself alone. A round solves a few sizes; the rest stays weighed.
    std::map<std::array<double, 4>, std::vector<double>> weighed;
};

/// A small piece of a mode's sizes and places: its likelihood and its share of the mode's prior.
struct Piece {
    double at{};
    double size{};
    double where{};
    double log_likelihood{};
    double log_share{};

    double log_mass() const { return log_likelihood + log_share; }
};

/// Weighs the curve in small pieces. Between neighbours that stand alike (equal signature) the readings follow a
/// monotone cubic (Fritsch and Carlson); where something switches between them, each neighbour stands for its half.
std::vector<Piece> weigh_curve(SizeCurve& curve, const Scorer& scorer, Story story);

/// Two neighbours between which something switches, so that nothing is known of what lies between them.
struct Gap {
    double middle{};  ///< on the scale of `at`
    double bound{};   ///< ln of a likelihood that no size between them is likely to beat
};
/// The gap with the highest bound, if there is one: as if every reading between the two neighbours' could be met.
std::optional<Gap> best_gap(const SizeCurve& curve, const Scorer& scorer, Story story);

/// The prediction between two neighbours of a curve, by the same interpolation; nearest where they do not stand alike.
Prediction predict_between(const SizeCurve& curve, double at, std::size_t world);

/// The scale of `CurvePoint::at`.
double scale_of(const SizeRange& range, double size);
double size_of(const SizeRange& range, double at);

}  // namespace voltfall
