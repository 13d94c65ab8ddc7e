#include "engine/diagnosis/refining.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace voltfall {

namespace {

/// A size within this share of its peak's width from a solved one needs no solution of its own.
constexpr double near_enough = 0.3;
/// A place along a wire is split in three while its likelihood differs from the next place's by more than this (in ln),
/// down to this share of the wire.
constexpr double places_differ = 0.5;
constexpr double least_place = 0.03;
/// Likelihoods (ln) that differ by less are the same height.
constexpr double flat_top = 1e-3;
/// A gap counts when it may hold a fit better than this much below the best one (in ln).
constexpr double gap_counts = 3;

constexpr double impossible = -std::numeric_limits<double>::infinity();

/// Where a suspect's weight lies on the scale of sizes.
struct Peak {
    double at{};
    double width{};
};

std::optional<Peak> peak_of(const Suspect& suspect, double where) {
    double best = impossible;
    Peak peak;
    std::vector<double> logs;
    std::vector<double> ats;
    for (const Piece& piece : suspect.pieces) {
        if (piece.where != where) continue;
        logs.push_back(piece.log_mass());
        ats.push_back(piece.at);
        // On a flat top the first stands, whatever a microvolt says.
        if (piece.log_likelihood <= best + flat_top) continue;
        best = piece.log_likelihood;
        peak.at = piece.at;
    }
    if (best == impossible) return std::nullopt;
    const std::vector<double> weights = weights_of_logs(logs);
    double mean = 0;
    double square = 0;
    for (std::size_t k = 0; k < ats.size(); ++k) mean += weights[k] * ats[k];
    for (std::size_t k = 0; k < ats.size(); ++k) square += weights[k] * (ats[k] - mean) * (ats[k] - mean);
    peak.width = std::sqrt(square);
    return peak;
}

double best_at(const Suspect& suspect, double where) {
    double best = impossible;
    for (const Piece& piece : suspect.pieces) {
        if (piece.where == where) best = std::max(best, piece.log_likelihood);
    }
    return best;
}

}  // namespace

std::vector<double> sizes_to_solve(const Suspect& suspect, const SizeCurve& curve, const Scorer& scorer) {
    const SizeRange& sizes = *suspect.mode->size;
    const double low = scale_of(sizes, sizes.low);
    const double high = scale_of(sizes, sizes.high);
    std::vector<double> wanted;
    const auto peak = peak_of(suspect, curve.points.empty() ? suspect.best.where : curve.where);
    const double width = peak ? std::clamp(peak->width, curve.range / 500, curve.range / 8) : 0;
    if (peak) wanted = {peak->at, peak->at - 1.2 * width, peak->at + 1.2 * width};
    if (curve.points.empty() && peak) {
        // The fit may ask for another size here, so that the flanks reach further.
        wanted.insert(wanted.end(), {peak->at - 5 * width, peak->at + 5 * width});
        for (double& at : wanted) at = std::clamp(at, low, high);
        std::sort(wanted.begin(), wanted.end());
        wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());
        return wanted;
    }
    if (const auto gap = best_gap(curve, scorer, suspect.story)) {
        if (gap->bound > suspect.best.log_likelihood - gap_counts) wanted.push_back(gap->middle);
    }
    std::erase_if(wanted, [&](double at) {
        const bool known = std::any_of(curve.points.begin(), curve.points.end(), [&](const CurvePoint& point) {
            return std::abs(point.at - at) < near_enough * width;
        });
        return known || at <= low || at >= high;
    });
    return wanted;
}

void split_best_place(Suspect& suspect) {
    if (!suspect.mode->along_wire) return;
    const auto best = std::find_if(suspect.curves.begin(), suspect.curves.end(), [&](const SizeCurve& curve) {
        return curve.where == suspect.best.where && !curve.points.empty();
    });
    if (best == suspect.curves.end() || best->share < least_place) return;
    const double here = best_at(suspect, best->where);
    const auto differs = [&](const SizeCurve& other) {
        const bool beside = std::abs(other.where - best->where) < (other.share + best->share) * 0.51;
        return !other.points.empty() && beside && std::abs(best_at(suspect, other.where) - here) > places_differ;
    };
    if (std::none_of(suspect.curves.begin(), suspect.curves.end(), differs)) return;
    best->share /= 3;
    SizeCurve before = *best;
    before.points.clear();
    before.weighed.clear();
    SizeCurve after = before;
    before.where -= best->share;
    after.where += best->share;
    const auto at = suspect.curves.insert(best, std::move(before));
    suspect.curves.insert(at + 2, std::move(after));
}

}  // namespace voltfall
